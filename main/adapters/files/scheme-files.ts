import { join } from 'node:path'
import { readScheme } from '../../../app/boards/read-scheme.ts'
import type { Scheme } from '../../../app/boards/scheme.ts'
import { AppError } from '../../../app/errors/app-error.ts'
import { resourcesFolder } from './resources-folder.ts'
import { readYamlFolder } from './yaml-folder.ts'

export interface LoadedScheme {
  readonly scheme: Scheme
  readonly source: 'shipped' | 'workshop'
  readonly path: string
  readonly text: string
}

/**
 * Loads the shipped schemes and those of a workshop (`schemes/*.yaml`), shipped ones first, each
 * group sorted by file name. A broken file is told in `problems` and hides no other; an id that is
 * already taken is a problem too.
 */
export async function loadSchemes(
  workshopFolder: string | null,
): Promise<{ readonly schemes: readonly LoadedScheme[]; readonly problems: readonly AppError[] }> {
  const shipped = await readYamlFolder(join(resourcesFolder(), 'schemes'))
  const own =
    workshopFolder === null
      ? { files: [], problems: [] }
      : await readYamlFolder(join(workshopFolder, 'schemes'))
  const schemes = new Map<string, LoadedScheme>()
  const problems = [...shipped.problems, ...own.problems]
  const files = [
    ...shipped.files.map((file) => ({ ...file, source: 'shipped' as const })),
    ...own.files.map((file) => ({ ...file, source: 'workshop' as const })),
  ]
  for (const file of files) {
    try {
      const scheme = readScheme(file.text, file.path)
      const taken = schemes.get(scheme.id)
      if (taken) throw idTaken(file.path, scheme.id, taken.path)
      schemes.set(scheme.id, { scheme, ...file })
    } catch (fault) {
      if (!(fault instanceof AppError)) throw fault
      problems.push(fault)
    }
  }
  return { schemes: [...schemes.values()], problems }
}

function idTaken(path: string, id: string, takenBy: string): AppError {
  return new AppError({
    code: 'scheme/id-taken',
    what: `The scheme id "${id}" is already used by ${takenBy}.`,
    where: path,
    mend: 'Give the scheme another id.',
  })
}
