import { existsSync } from 'node:fs'
import { mkdir, readFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { boardId as idOfBoard } from '../../../app/boards/board-schema.ts'
import { BOARD_SCHEMA_FILE } from '../../../app/boards/board-text.ts'
import { boardIdentity } from '../../../app/boards/read-board.ts'
import { AppError } from '../../../app/errors/app-error.ts'
import type { WorkshopTexts } from '../../../app/ports/workshop-texts.ts'
import { writeAtomically } from './atomic-write.ts'
import { loadBoards } from './board-files.ts'
import { resourcesFolder } from './resources-folder.ts'

/** Board and scheme files of a workshop folder, named by their ids. */
export function workshopTexts(workshopFolder: string): WorkshopTexts {
  async function keep(kind: 'board' | 'scheme', id: string, text: string, replace: boolean): Promise<string> {
    const folder = `${kind}s`
    // Ids come from people; a file's name must not leave its folder.
    if (!idOfBoard.safeParse(id).success) {
      throw fault(
        `${kind}/bad-id`,
        'An id has small letters, digits and single hyphens, and is no word that Windows keeps for a device.',
        id,
        'Choose another id.',
      )
    }
    if (existsSync(join(resourcesFolder(), folder, `${id}.yaml`))) {
      throw fault(
        `${kind}/shipped`,
        `A shipped ${kind} has this id, and is never changed.`,
        id,
        'Choose another id.',
      )
    }
    const path = (replace ? await fileOf(id) : null) ?? join(workshopFolder, folder, `${id}.yaml`)
    if (existsSync(path) && !(replace && (await holds(path, id)))) {
      throw fault(
        `${kind}/exists`,
        `The workshop has a ${kind} of this id.`,
        path,
        'Choose another id, or change that file.',
      )
    }
    try {
      await mkdir(join(workshopFolder, folder), { recursive: true })
      await writeAtomically(path, async (handle) => void (await handle.write(text)))
      if (kind === 'board') await laySchemaBeside(path)
    } catch (error) {
      throw writeFault(error, path)
    }
    return path
  }
  /** People name files as they like: a board is changed where it lies. */
  async function fileOf(boardId: string): Promise<string | null> {
    const { boards } = await loadBoards(workshopFolder)
    return boards.find(({ board, source }) => source === 'workshop' && board.id === boardId)?.path ?? null
  }

  return {
    keepBoard: (boardId, text, replace) => keep('board', boardId, text, replace),
    keepScheme: (schemeId, text) => keep('scheme', schemeId, text, false),
  }
}

/** Puts the schema of board files beside one, for the editor that it is opened in. */
async function laySchemaBeside(path: string): Promise<void> {
  const schema = await readFile(join(resourcesFolder(), 'schemas', BOARD_SCHEMA_FILE))
  const target = join(dirname(path), BOARD_SCHEMA_FILE)
  const there = await readFile(target).catch(() => null)
  if (there === null || !schema.equals(there)) {
    await writeAtomically(target, async (handle) => void (await handle.write(schema)))
  }
}

/** Whether a file is of this board, as far as it can be read: another one's is never written over. */
async function holds(path: string, boardId: string): Promise<boolean> {
  const { id } = boardIdentity(await readFile(path, 'utf8').catch(() => ''))
  return id === null || id === boardId
}

function fault(code: string, what: string, where: string, mend: string): AppError {
  return new AppError({ code, what, where, mend })
}

function writeFault(error: unknown, where: string): unknown {
  const code = (error as NodeJS.ErrnoException).code
  const told = (name: string, what: string, mend: string): AppError =>
    new AppError({ code: `workshop/${name}`, what, where, mend, kind: 'machine' }, { cause: error })
  if (code === 'ENOSPC' || code === 'EDQUOT')
    return told('disk-full', 'The disk is full.', 'Free some room and try again.')
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS') {
    return told('no-permission', 'This user may not write there.', 'Mend the permissions of the workshop.')
  }
  return error
}
