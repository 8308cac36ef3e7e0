import { AppError, Cancelled } from '../../../app/errors/app-error.ts'
import { readVolumeShape } from '../../../app/cards/read-volume-shape.ts'
import type { ObservedCard, ObservedFile } from '../../../app/model/observed-card.ts'
import type { SoundInspection } from '../../../app/model/sound.ts'
import type { ByteSource } from '../../../app/ports/bytes.ts'
import type { RunControl } from '../../../app/ports/progress.ts'
import type { SoundInspector } from '../../../app/ports/sound-inspector.ts'
import { isLitterFolder } from '../../../app/usecases/scan/file-kinds.ts'
import { FatFault, openFatVolume, type FatVolume } from './fat-volume.ts'
import { openImageFile } from './image-file.ts'
import { MOST_FILES, isRootText, observedKind, tooManyFiles } from './observed-kinds.ts'

const DEEPEST = 64
/** A sound is held in memory whole; none that a board plays comes near it. */
const LARGEST_SOUND_BYTES = 128 << 20
/** Sounds read and not yet measured: one for each of two workers. */
const INSPECTED_AT_ONCE = 2

type Inspector = Pick<SoundInspector, 'inspectBytes'>
type FoundFile = Pick<ObservedFile, 'path' | 'sizeBytes' | 'kind'>

/**
 * Looks at the image of a whole card: every file in the order of its directories, sounds inspected,
 * and how the card is cut. A damaged image is refused whole: what it shows would be no card that plays.
 *
 * @throws AppError `observe/not-a-card-image`, `observe/unreadable`, `observe/too-many-files`; Cancelled
 */
export async function observeImage(
  path: string,
  inspector: Inspector,
  control: RunControl,
): Promise<ObservedCard> {
  try {
    const image = openImageFile(path)
    try {
      return await observe(image, path, inspector, control)
    } finally {
      image.close()
    }
  } catch (error) {
    throw told(error, path)
  }
}

async function observe(
  image: ByteSource,
  path: string,
  inspector: Inspector,
  control: RunControl,
): Promise<ObservedCard> {
  const shape = readVolumeShape(image)
  if (shape === null) throw new FatFault('there is no FAT16 or FAT32 in it.')
  if (shape.endBytes > image.sizeBytes)
    throw new FatFault(`it ends after ${image.sizeBytes} of ${shape.endBytes} bytes.`)
  const volume = await openFatVolume(image)
  try {
    const found = filesOf(volume, image.sizeBytes, path, control)
    const inspections = await inspectSounds(volume, found, inspector, control)
    const files = found.map((file): ObservedFile => {
      const text = isRootText(file.path, file.sizeBytes) ? read(volume, file).toString('utf8') : null
      return { ...file, text, inspection: inspections.get(file.path) ?? null }
    })
    const { endBytes: _, ...cut } = shape
    return { files, volume: { ...cut, sizeBytes: image.sizeBytes } }
  } finally {
    volume.close()
  }
}

/** @throws FatFault where the folders cannot be those of a sound file system */
function filesOf(
  volume: FatVolume,
  imageBytes: number,
  imagePath: string,
  { cancel }: RunControl,
): readonly FoundFile[] {
  const files: FoundFile[] = []
  let names = 0
  let bytes = 0
  const walk = (below: string, depth: number): void => {
    if (cancel.aborted) throw new Cancelled()
    if (depth > DEEPEST) throw new FatFault(`/${below} is deeper than any card of sounds.`)
    const folders: string[] = []
    for (const { name, isFolder, sizeBytes } of volume.list(below)) {
      if (++names > MOST_FILES) throw tooManyFiles(imagePath)
      const path = below === '' ? name : `${below}/${name}`
      if (isFolder && !isLitterFolder(name)) folders.push(path)
      if (isFolder) continue
      files.push({ path, sizeBytes, kind: observedKind(path) })
      // No two files share bytes: a sum beyond the image means folders that hold each other.
      if ((bytes += sizeBytes) > imageBytes)
        throw new FatFault('its files are larger together than the image.')
    }
    for (const folder of folders) walk(folder, depth + 1)
  }
  walk('', 0)
  return files
}

async function inspectSounds(
  volume: FatVolume,
  found: readonly FoundFile[],
  inspector: Inspector,
  { cancel, onProgress }: RunControl,
): Promise<ReadonlyMap<string, SoundInspection>> {
  const sounds = found.filter((file) => file.kind === 'sound')
  const inspections = new Map<string, SoundInspection>()
  const running = new Set<Promise<void>>()
  let done = 0
  const inspect = async (sound: FoundFile): Promise<void> => {
    const inspection =
      sound.sizeBytes > LARGEST_SOUND_BYTES
        ? tooLarge(sound)
        : (await inspector.inspectBytes(read(volume, sound), sound.path, cancel)).inspection
    inspections.set(sound.path, inspection)
    const current = sound.path
    onProgress({ phase: 'looking at the card', done: ++done, total: sounds.length, unit: 'files', current })
  }
  try {
    for (const sound of sounds) {
      if (cancel.aborted) throw new Cancelled()
      const inspecting = inspect(sound).finally(() => running.delete(inspecting))
      // Met by whoever awaits it below; until then it must not count as unhandled.
      inspecting.catch(() => {})
      running.add(inspecting)
      if (running.size >= INSPECTED_AT_ONCE) await Promise.race(running)
    }
    await Promise.all(running)
  } finally {
    await Promise.allSettled(running)
  }
  return inspections
}

/** @throws FatFault where not all of it can be read */
function read(volume: FatVolume, { path, sizeBytes }: FoundFile): Buffer<ArrayBuffer> {
  const bytes = Buffer.from(new ArrayBuffer(sizeBytes))
  let at = 0
  volume.readFile(path, (piece) => {
    bytes.set(piece.subarray(0, sizeBytes - at), at)
    at += piece.length
  })
  if (at !== sizeBytes) throw new FatFault(`${path} ends after ${at} of ${sizeBytes} bytes.`)
  return bytes
}

function tooLarge({ path, sizeBytes }: FoundFile): SoundInspection {
  const message = `It has more than ${LARGEST_SOUND_BYTES >> 20} MiB and was not read.`
  const problem = { code: 'observe/too-large', message }
  return { sha256: path, sizeBytes, sampleHash: null, facts: null, measures: null, problem }
}

/** Damage, and what the operating system said, in the words of `CardObserver`. */
function told(error: unknown, where: string): unknown {
  if (error instanceof FatFault) {
    return new AppError(
      {
        code: 'observe/not-a-card-image',
        what: `It is no whole image of a card: ${error.message}`,
        where,
        mend: 'Make the image of the card anew, or name the folder where the card is mounted.',
      },
      { cause: error },
    )
  }
  const code = (error as { code?: unknown } | null)?.code
  if (error instanceof AppError || error instanceof Cancelled || typeof code !== 'string') return error
  const report = {
    code: 'observe/unreadable',
    what: `It cannot be read (${code}).`,
    mend: 'Check that you may read it.',
  }
  return new AppError({ ...report, where, kind: 'machine' }, { cause: error })
}
