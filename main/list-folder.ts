import type { Dirent } from 'node:fs'
import { readdir, stat } from 'node:fs/promises'
import { homedir } from 'node:os'
import { dirname, extname, join, parse, resolve } from 'node:path'
import type { AskRequest, AskResponse } from '../app/contract/door.ts'
import { pathFault } from './adapters/files/look-at-path.ts'

type Kind = AskRequest<'door:list-folder'>['kind']

/** Most folders, and most files, that are told of one folder. */
const MOST_TOLD = 2000

/** Endings of the files that can be chosen; none where a folder is. */
const ENDINGS: Readonly<Record<Kind, readonly string[]>> = {
  folder: [],
  archive: ['.zip'],
  'image-to-read': ['.img'],
  'image-to-write': ['.img'],
}

const { compare } = new Intl.Collator('en', { numeric: true, sensitivity: 'base' })

/**
 * What is in a folder of this computer, for choosing: folders and such files as are wanted, by their
 * names. Hidden ones are left out.
 *
 * @param request its `path` null means the user's home
 * @throws AppError as `pathFault`
 */
export async function listFolder({
  path,
  kind,
}: AskRequest<'door:list-folder'>): Promise<AskResponse<'door:list-folder'>> {
  const folder = path === null ? homedir() : resolve(path)
  const entries = await entriesOf(folder)
  const shown = entries
    .filter(({ name }) => !name.startsWith('.'))
    .toSorted((a, b) => compare(a.name, b.name))
  const folders: string[] = []
  const files: string[] = []
  for (const entry of shown) {
    if (await isFolder(folder, entry)) folders.push(entry.name)
    else if (ENDINGS[kind].includes(extname(entry.name).toLowerCase())) files.push(entry.name)
  }
  const parent = dirname(folder)
  const told = (names: readonly string[]) =>
    names.slice(0, MOST_TOLD).map((name) => ({ name, path: join(folder, name) }))
  return {
    path: folder,
    parent: parent === folder ? null : parent,
    places: [
      { name: 'Home', path: homedir() },
      { name: 'This computer', path: parse(folder).root },
    ],
    folders: told(folders),
    files: told(files),
    isCut: folders.length > MOST_TOLD || files.length > MOST_TOLD,
  }
}

async function entriesOf(folder: string): Promise<readonly Dirent[]> {
  try {
    return await readdir(folder, { withFileTypes: true })
  } catch (error) {
    throw pathFault(error, folder)
  }
}

/** Links are followed, as whoever looks for a folder expects; a dead one is none. */
async function isFolder(folder: string, entry: Dirent): Promise<boolean> {
  if (!entry.isSymbolicLink()) return entry.isDirectory()
  try {
    return (await stat(join(folder, entry.name))).isDirectory()
  } catch {
    return false
  }
}
