import { mkdir, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { PREPARING_VERSION } from '../../app/audio/prepare/preparing-version.ts'
import { Cancelled, fromReport } from '../../app/errors/app-error.ts'
import { NO_FFMPEG_MEND } from '../../app/errors/no-ffmpeg.ts'
import type { PreparingTools } from '../../app/model/preparation.ts'
import type { AbortLike } from '../../app/ports/progress.ts'
import type { Came, SoundPreparer } from '../../app/ports/sound-preparer.ts'
import { removeLeftBehind } from '../adapters/files/left-behind.ts'
import { MARK_PATTERN, OWN_MARK } from '../adapters/files/process-mark.ts'
import { ffmpegBuild, type FfmpegAbilities, type FfmpegBuild } from '../adapters/media/ffmpeg-build.ts'
import { SOXR_BITS } from '../adapters/media/resample-batch.ts'
import { batchesOf } from './prepare-batches.ts'
import { preparingFault } from './preparing-faults.ts'
import { RestingWorkers } from './resting-workers.ts'
import { workOff, type CrewOrders } from './prepare-crew.ts'

/** Two, as for reading: the work is bound by the processor, and small machines have two. */
const POOL_SIZE = 2
const HANG_AFTER_MS = 600_000

export interface PreparerOptions {
  /** For what is half done: a folder in it for each run that is at it. */
  readonly scratchFolder: string
  /** Another worker file and time limit, for tests of workers that die or hang. */
  readonly entry?: URL
  readonly hangAfterMs?: number
}

/** Whose a scratch folder is. */
const OWNER = new RegExp(String.raw`^${MARK_PATTERN}(?:\.\d+)?$`)

/** Runs of this process, several of which may go on at a time. */
let runs = 0

/** Preparing on worker threads; they start with the work and end soon after it. */
export function openWorkerPreparer(options: PreparerOptions): SoundPreparer {
  let build: Promise<FfmpegBuild | undefined> | undefined
  const workers = new RestingWorkers(options.entry ?? new URL('./prepare.entry.ts', import.meta.url))
  const closing = new AbortController()
  const known = () => (build ??= ffmpegBuild(closing.signal))
  const abilities = async (cancel: AbortLike): Promise<FfmpegAbilities> => {
    const { hasSoxr = false, readsLargePackets = false } = (await unlessCancelled(known(), cancel)) ?? {}
    return { hasSoxr, readsLargePackets }
  }

  async function run(
    sizesBytes: readonly number[],
    orders: Pick<CrewOrders, 'jobOf' | 'hear' | 'lose'>,
    cancel: AbortLike,
  ): Promise<void> {
    await clearScratch(options.scratchFolder).catch((error: unknown) => refuse(error, options.scratchFolder))
    if (sizesBytes.length === 0) return
    const scratchFolder = join(options.scratchFolder, `${OWN_MARK}.${++runs}`)
    // What keeps it from being made would meet every sound.
    await mkdir(scratchFolder).catch((error: unknown) => refuse(error, options.scratchFolder))
    try {
      const common = {
        size: POOL_SIZE,
        workers,
        scratchFolder,
        hangAfterMs: options.hangAfterMs ?? HANG_AFTER_MS,
      }
      await workOff(batchesOf(sizesBytes, POOL_SIZE), { ...common, ...orders }, cancel)
    } finally {
      await removeQuietly(scratchFolder)
    }
  }

  return {
    tools: async (cancel) =>
      toolsOf(await (cancel === undefined ? known() : unlessCancelled(known(), cancel))),
    getReady() {
      void known()
      workers.haveReady(POOL_SIZE)
    },
    async answer(groups, onDone, cancel) {
      const ofFfmpeg = await abilities(cancel)
      const sizes = groups.map(({ originals }) =>
        originals.reduce((sum, { sizeBytes }) => sum + sizeBytes, 0),
      )
      const orders: Pick<CrewOrders, 'jobOf' | 'hear' | 'lose'> = {
        jobOf: (indexes, common) => ({
          ...common,
          type: 'answer',
          abilities: ofFfmpeg,
          groups: pick(groups, indexes),
        }),
        hear: async (index, answer) => {
          if ('answers' in answer) onDone(index, located(answer.answers, options.scratchFolder))
        },
        lose: async (index, problem) => onDone(index, { problem }),
      }
      await run(sizes, orders, cancel)
    },
    async make(sounds, onDone, cancel) {
      const ofFfmpeg = await abilities(cancel)
      const orders: Pick<CrewOrders, 'jobOf' | 'hear' | 'lose'> = {
        jobOf: (indexes, common) => ({
          ...common,
          type: 'make',
          abilities: ofFfmpeg,
          sounds: pick(sounds, indexes),
        }),
        hear: async (index, answer) => {
          if (!('sound' in answer)) return
          await onDone(index, located(answer.sound, options.scratchFolder))
          if ('made' in answer.sound) await removeQuietly(answer.sound.made.path)
        },
        lose: (index, problem) => onDone(index, { problem }),
      }
      const sizes = sounds.map(({ original }) => original.sizeBytes)
      await run(sizes, orders, cancel)
    },
    async close() {
      // An ffmpeg that does not say what it is would keep the process alive.
      closing.abort()
      await workers.close()
    },
  }
}

/** Waits no longer than the user does. @throws Cancelled, and what the work throws */
async function unlessCancelled<T>(work: Promise<T>, cancel: AbortLike): Promise<T> {
  if (cancel.aborted) throw new Cancelled()
  let stop = (): void => undefined
  const cancelled = new Promise<never>((_, reject) => {
    stop = () => reject(new Cancelled())
    cancel.addEventListener('abort', stop)
  })
  try {
    return await Promise.race([work, cancelled])
  } finally {
    cancel.removeEventListener('abort', stop)
  }
}

function pick<T>(items: readonly T[], indexes: readonly number[]): T[] {
  return indexes.flatMap((index) => {
    const item = items[index]
    return item === undefined ? [] : [item]
  })
}

function toolsOf(build: FfmpegBuild | undefined): PreparingTools {
  const resampler = build?.hasSoxr === true ? `soxr ${SOXR_BITS.upTo16} and ${SOXR_BITS.above}` : 'own 256'
  const version = build === undefined ? 'none' : (build.version ?? 'unknown')
  const withFfmpeg = `${PREPARING_VERSION}, ffmpeg ${version}, ${resampler}`
  const hasFfmpeg = build !== undefined
  return { own: PREPARING_VERSION, withFfmpeg, hasFfmpeg, fallBack: fallBackOf(build) }
}

function fallBackOf(build: FfmpegBuild | undefined): string | null {
  if (build === undefined) {
    return `ffmpeg could not be run: sounds that need another sample rate or another decoder cannot be made. ${NO_FFMPEG_MEND}`
  }
  if (build.version === null) {
    return 'ffmpeg does not say which version it is; it is used as one without the soxr resampler, whose own one is good, and not as good.'
  }
  return build.hasSoxr
    ? null
    : `ffmpeg ${build.version} has no soxr resampler; its own one is used, which is good, and not as good.`
}

/** @throws AppError in words for what the machine said */
function refuse(error: unknown, where: string): never {
  throw fromReport({ ...preparingFault(error), where, kind: 'machine' })
}

/** A worker knows no more of a disk than that it failed. */
function located<T>(came: Came<T>, scratchFolder: string): Came<T> {
  if ('made' in came || came.problem.where !== '' || !OF_THE_DISK.has(came.problem.code)) return came
  return { problem: { ...came.problem, where: scratchFolder } }
}

const OF_THE_DISK: ReadonlySet<string> = new Set([
  'prepare/disk-full',
  'prepare/disk-fault',
  'prepare/no-permission',
])

/** What cannot be removed now is removed when sounds are prepared next. */
async function removeQuietly(path: string): Promise<void> {
  await rm(path, { recursive: true, force: true }).catch(() => undefined)
}

/** Removes what processes have left that are gone. */
async function clearScratch(folder: string): Promise<void> {
  await mkdir(folder, { recursive: true })
  await removeLeftBehind(folder, (name) => Number(OWNER.exec(name)?.[1] ?? NaN))
}
