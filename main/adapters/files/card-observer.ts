import type { Dirent } from 'node:fs'
import { opendir, readFile, stat, statfs } from 'node:fs/promises'
import { join } from 'node:path'
import { AppError, Cancelled } from '../../../app/errors/app-error.ts'
import type { ObservedCard, ObservedFile } from '../../../app/model/observed-card.ts'
import type { SoundInspection } from '../../../app/model/sound.ts'
import type { CardObserver } from '../../../app/ports/card-observer.ts'
import type { RunControl } from '../../../app/ports/progress.ts'
import type { SoundInspector } from '../../../app/ports/sound-inspector.ts'
import { isLitterFolder } from '../../../app/usecases/scan/file-kinds.ts'
import { MOST_FILES, isRootText, observedKind, tooManyFiles } from './observed-kinds.ts'

const DEEPEST = 16
/** `f_type` of FAT. Source: Linux, magic.h, MSDOS_SUPER_MAGIC; from memory. */
const MSDOS_SUPER_MAGIC = 0x4d44
/** A FAT volume with fewer clusters is a FAT16. Source: Microsoft FAT specification 1.03, "FAT type determination". */
const LEAST_FAT32_CLUSTERS = 65_525

/**
 * Looks at a mounted card, a copy of one, or the image of one, and inspects its sounds. Links inside a
 * folder are not followed.
 */
export function cardObserver(inspector: Pick<SoundInspector, 'inspectFiles' | 'inspectBytes'>): CardObserver {
  return {
    async observe(from, control) {
      if (await isFile(from)) {
        // Loaded only here: the library that reads images is a start's worth of time to load.
        const { observeImage } = await import('./observe-image.ts')
        return observeImage(from, inspector, control)
      }
      return observeFolder(from, inspector, control)
    },
    async inspect(files, control) {
      const sizes = await Promise.all(files.map(sizeOf))
      const inspections: SoundInspection[] = []
      await inspector.inspectFiles(
        files.map((path, index) => ({ path, sizeBytes: sizes[index] ?? 0 })),
        (index, { inspection }) => void (inspections[index] = inspection),
        control.cancel,
      )
      return inspections
    },
  }
}

async function observeFolder(
  folder: string,
  inspector: Pick<SoundInspector, 'inspectFiles'>,
  control: RunControl,
): Promise<ObservedCard> {
  const found = await filesOf(folder, control)
  const sounds = found.filter((file) => file.kind === 'sound')
  const inspections = new Map<string, ObservedFile['inspection']>()
  let done = 0
  await inspector.inspectFiles(
    sounds.map(({ path, sizeBytes }) => ({ path: join(folder, path), sizeBytes })),
    (index, { inspection }) => {
      const sound = sounds[index]
      if (sound === undefined) return
      inspections.set(sound.path, inspection)
      control.onProgress({
        phase: 'looking at the card',
        done: ++done,
        total: sounds.length,
        unit: 'files',
        current: sound.path,
      })
    },
    control.cancel,
  )
  const files = found.map((file): ObservedFile => ({
    ...file,
    inspection: inspections.get(file.path) ?? null,
  }))
  return { files, volume: await volumeOf(folder) }
}

type FoundFile = Omit<ObservedFile, 'inspection'>

/** In the order of the directories: `readdir` would sort. */
async function filesOf(root: string, control: RunControl): Promise<readonly FoundFile[]> {
  const files: FoundFile[] = []
  const walk = async (below: string, depth: number): Promise<void> => {
    const folders: string[] = []
    for (const entry of await namesOf(join(root, below), root)) {
      if (control.cancel.aborted) throw new Cancelled()
      const path = below === '' ? entry.name : `${below}/${entry.name}`
      if (entry.isDirectory() && !isLitterFolder(entry.name)) folders.push(path)
      if (!entry.isFile()) continue
      if (files.length >= MOST_FILES) throw tooManyFiles(root)
      const { size } = await stat(join(root, path))
      const text = isRootText(path, size) ? await readFile(join(root, path), 'utf8') : null
      files.push({
        path,
        sizeBytes: size,
        kind: observedKind(path),
        text,
      })
    }
    if (depth < DEEPEST) for (const folder of folders) await walk(folder, depth + 1)
  }
  await walk('', 0)
  return files
}

async function namesOf(folder: string, root: string): Promise<readonly Dirent[]> {
  try {
    const names: Dirent[] = []
    for await (const entry of await opendir(folder)) names.push(entry)
    return names
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code
    const isMissing = code === 'ENOENT' || code === 'ENOTDIR'
    throw new AppError(
      {
        code: isMissing ? 'observe/not-a-folder' : 'observe/unreadable',
        what: isMissing
          ? 'There is no such folder or image.'
          : `It cannot be read (${code ?? 'unknown cause'}).`,
        where: isMissing ? root : folder,
        mend: isMissing
          ? 'Name the folder where the card is mounted, a copy of it, or an image of it.'
          : 'Check that you may read it.',
      },
      { cause: error },
    )
  }
}

/** Whether a path is a file; one that is not there is told by the walk. */
async function isFile(path: string): Promise<boolean> {
  return stat(path).then(
    (facts) => facts.isFile(),
    () => false,
  )
}

/** @throws AppError `observe/unreadable` */
async function sizeOf(path: string): Promise<number> {
  try {
    const facts = await stat(path)
    if (facts.isFile()) return facts.size
  } catch {
    // Told below, with the path.
  }
  throw new AppError({
    code: 'observe/unreadable',
    what: 'There is no such file that can be read.',
    where: path,
    mend: 'Check the spelling, and that you may read it.',
  })
}

/** The volume below a folder, where the system tells that it is FAT. */
async function volumeOf(folder: string): Promise<ObservedCard['volume']> {
  const facts = await statfs(folder).catch(() => null)
  if (facts === null || facts.type !== MSDOS_SUPER_MAGIC) return null
  return {
    fileSystem: facts.blocks < LEAST_FAT32_CLUSTERS ? 'fat16' : 'fat32',
    clusterBytes: facts.bsize,
    sizeBytes: facts.blocks * facts.bsize,
    partitionTable: null,
    alignmentBytes: null,
  }
}
