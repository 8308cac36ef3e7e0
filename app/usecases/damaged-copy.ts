import { AppError } from '../errors/app-error.ts'
import type { ContentFile } from '../model/content.ts'
import type { ContentStore } from '../ports/content-store.ts'

/** What a card is made of, as far as a fault is told in its words. */
export interface CardInWords {
  readonly fonts: readonly { readonly folder: string; readonly fontName: string }[]
  readonly files: readonly Pick<ContentFile, 'path' | 'sha256'>[]
}

type DamageStore = Pick<ContentStore, 'putAsideDamaged'>

/**
 * Does something with the kept bytes of a card; where a copy turns out to be damaged, it is put aside, and
 * that is told with its font and how to go on.
 * @throws what `work` throws
 */
export async function withDamageInWords<T>(
  card: CardInWords,
  store: DamageStore,
  work: () => Promise<T>,
): Promise<T> {
  try {
    return await work()
  } catch (error) {
    throw await inWords(error, card, store)
  }
}

async function inWords(error: unknown, { fonts, files }: CardInWords, store: DamageStore): Promise<unknown> {
  if (!(error instanceof AppError) || error.code !== 'store/damaged') return error
  const file = files.find(({ path }) => path === error.where)
  const font = fonts.find(({ folder }) => error.where.startsWith(`${folder}/`))
  const aside = file === undefined ? null : await putAside(file.sha256, store)
  if (aside === null) return error
  const { code, what, where, kind } = error
  return new AppError(
    {
      code,
      what,
      where: font === undefined ? where : `font "${font.fontName}", ${where}`,
      mend: `Check the disk. The damaged copy was put aside (${aside}): prepare the font again where it was prepared, and make the card anew.`,
      kind,
    },
    { cause: error },
  )
}

/** Null where it could not be: what was found first is what is told. */
async function putAside(sha256: string, store: DamageStore): Promise<string | null> {
  try {
    return await store.putAsideDamaged(sha256, 'again')
  } catch {
    return null
  }
}
