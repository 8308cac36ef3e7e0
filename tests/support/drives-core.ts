import type { RequestOf, ResponseOf } from '../../app/contract/calls.ts'
import type { Core } from '../../app/contract/core.ts'
import { AppError, Cancelled } from '../../app/errors/app-error.ts'
import { fixtureCore } from './fixture-core.ts'

type Drive = ResponseOf<'drives:list'>['drives'][number]
type Judged = ResponseOf<'targets:judge'>

const GB = 1_000_000_000

export const CARD: Drive = {
  path: '/media/bench/CARD',
  label: 'CARD',
  device: '/dev/sdx1',
  model: 'Reader with one slot',
  connection: 'usb',
  fileSystem: 'FAT32',
  clusterBytes: 4096,
  sizeBytes: 16 * GB,
  freeBytes: 15 * GB,
  holds: '7Q2M4K9XZA',
}
/** As large cards come. */
export const LARGE: Drive = {
  ...CARD,
  path: '/media/bench/LARGE',
  label: 'LARGE',
  device: '/dev/sdy1',
  fileSystem: 'exFAT',
  sizeBytes: 128 * GB,
  freeBytes: 128 * GB,
  holds: null,
}
const UNMOUNTED: Drive = { ...CARD, path: null, label: '', device: '/dev/sdz1', freeBytes: null, holds: null }

export const EXFAT = {
  code: 'target/file-system',
  what: 'The board reads FAT32, and this card is exFAT.',
  where: '/media/bench/LARGE',
  mend: 'Format it as FAT32 first; that removes everything on it.',
  steps: [
    { step: 'Copy off what is wanted.', ways: [] },
    { step: 'Format it.', ways: ['Windows: right-click the drive.', 'Linux: `mkfs.fat`.'] },
  ],
}
export const STRANGERS = {
  code: 'target/strangers',
  what: 'There are 2 files that belong to no card of ours.',
  where: '/media/bench/CARD',
  mend: 'Take the card in first, or say that they may be removed.',
}

/** Told by every reading back here. */
export const NOTE = 'The operating system left .Trashes there.'

/** What a test can change and see from outside the window. */
export interface DrivesCore {
  readonly core: Core
  drives: Drive[]
  /** Whether files that nobody knows lie on the card. */
  hasStrangers: boolean
  /** Whether writing goes on until it is cancelled. */
  isEndless: boolean
  readonly written: RequestOf<'make:into'>[]
}

/** A core with drives of every kind, as no test machine has them. */
export function drivesCore(): DrivesCore {
  const state: DrivesCore = {
    core: fixtureCore(3).core,
    drives: [CARD, LARGE, UNMOUNTED],
    hasStrangers: false,
    isEndless: false,
    written: [],
  }
  const answers: Partial<Core> = {
    'drives:list': () => Promise.resolve({ drives: state.drives }),
    'targets:judge': (request) => Promise.resolve(judged(request, state)),
    verify: ({ target, against }) => Promise.resolve({ ...VERIFIED, target, fingerprint: against ?? null }),
    async 'make:into'(request, control) {
      state.written.push(request)
      control.onProgress({ phase: 'writing the files', done: 3, total: 10, unit: 'files', current: null })
      if (state.isEndless) {
        await new Promise((_, reject) =>
          control.cancel.addEventListener('abort', () => reject(new Cancelled())),
        )
      }
      const size = await state.core.size(request, control)
      return {
        fingerprint: '0123456789',
        board: 'bench-44',
        build: null,
        size,
        fonts: [{ slot: 1, folder: '01-font', font: 'Font 00000', version: '1' }],
        withoutLicence: ['Font 00000'],
        cautions: [],
        kept: { fonts: [], files: 0, bytes: 0, problems: [] },
        written: {
          into: request.into,
          kind: 'card',
          fileSystem: 'FAT32',
          filesWritten: 18,
          bytesWritten: 9_000_000,
          filesLeft: 2,
          removed: request.replace === true ? ['holiday.jpg', 'letters/one.txt'] : [],
          litterRemoved: ['.Trashes'],
          wasReseated: true,
          next: ['Eject CARD.', 'Take the card out, put it in again, and read it back.'],
        },
        verify: { ...VERIFIED, target: request.into, fingerprint: '0123456789' },
        verified: true,
      }
    },
  }
  Object.assign(state.core, answers)
  return state
}

const VERIFIED: ResponseOf<'verify'> = {
  target: '',
  fingerprint: null,
  verified: true,
  filesChecked: 20,
  bytesChecked: 9_000_000,
  missing: [],
  changed: [],
  added: [],
  faults: [],
  notes: [NOTE],
}

function judged({ into, replace = false }: RequestOf<'targets:judge'>, state: DrivesCore): Judged {
  const drive = state.drives.find(({ path }) => path === into)
  if (drive === undefined) {
    throw new AppError({
      code: 'target/none',
      what: 'There is no such folder.',
      where: into,
      mend: 'Choose one that is there.',
    })
  }
  const { fileSystem, clusterBytes, sizeBytes, freeBytes, holds } = drive
  const needsReplace = state.hasStrangers && !replace
  return {
    into,
    kind: 'card',
    fileSystem,
    clusterBytes,
    sizeBytes,
    freeBytes,
    keepsOrder: fileSystem === 'FAT32',
    neededBytes: 9_500_000,
    holds,
    strangers: state.hasStrangers ? ['holiday.jpg', 'letters/one.txt'] : [],
    strangerCount: state.hasStrangers ? 2 : 0,
    refusal: fileSystem === 'exFAT' ? EXFAT : needsReplace ? STRANGERS : null,
    needsReplace: fileSystem !== 'exFAT' && needsReplace,
    cautions: holds === null ? [] : [`The content ${holds} on it is overwritten.`],
  }
}
