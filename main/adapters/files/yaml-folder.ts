import { readFile, readdir, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { AppError } from '../../../app/errors/app-error.ts'

/** A board or scheme file as text. */
export interface YamlFile {
  readonly path: string
  readonly text: string
}

const LARGEST_BYTES = 4_000_000

/**
 * Reads every `*.yaml` and `*.yml` of one folder, sorted by name; none where the folder is absent.
 * What cannot be read is told in `problems` and does not hide the others.
 */
export async function readYamlFolder(
  folder: string,
): Promise<{ readonly files: readonly YamlFile[]; readonly problems: readonly AppError[] }> {
  let names: string[]
  try {
    names = await readdir(folder)
  } catch (fault) {
    if ((fault as NodeJS.ErrnoException).code === 'ENOENT') return { files: [], problems: [] }
    return { files: [], problems: [unreadable(folder, fault)] }
  }
  const files: YamlFile[] = []
  const problems: AppError[] = []
  for (const name of names.filter((each) => /\.ya?ml$/i.test(each)).sort()) {
    try {
      files.push(await readYamlFile(join(folder, name)))
    } catch (fault) {
      problems.push(fault instanceof AppError ? fault : unreadable(join(folder, name), fault))
    }
  }
  return { files, problems }
}

/**
 * Reads one text file of a bounded size.
 * @throws AppError `file/unreadable`, `file/too-large`
 */
export async function readYamlFile(path: string): Promise<YamlFile> {
  try {
    const facts = await stat(path)
    if (!facts.isFile()) throw unreadable(path, new Error('it is no file'))
    if (facts.size > LARGEST_BYTES) {
      throw new AppError({
        code: 'file/too-large',
        what: 'A board or scheme file has at most 4 MB.',
        where: path,
        mend: 'Choose the right file.',
      })
    }
    return { path, text: await readFile(path, 'utf8') }
  } catch (fault) {
    throw fault instanceof AppError ? fault : unreadable(path, fault)
  }
}

function unreadable(path: string, fault: unknown): AppError {
  return new AppError(
    {
      code: 'file/unreadable',
      what: `It cannot be read (${fault instanceof Error ? fault.message : 'unknown cause'}).`,
      where: path,
      mend: 'Check that it exists and that you may read it.',
    },
    { cause: fault },
  )
}
