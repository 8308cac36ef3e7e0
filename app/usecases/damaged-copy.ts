import { AppError } from '../errors/app-error.ts'
import type { ContentFile } from '../model/content.ts'
import type { ContentStore } from '../ports/content-store.ts'

/** What a card is made of, as far as a fault is told in its words. */
export interface CardInWords {
  readonly fonts: readonly { readonly folder: string; readonly fontName: string }[]
  readonly files: readonly Pick<ContentFile, 'path' | 'sha256'>[]
}

/**
 * Does something with the kept bytes of a card; where a copy turns out to be damaged, that is told with
 * its font, where the copy lies and how to mend it.
 * @throws what `work` throws
 */
export async function withDamageInWords<T>(
  card: CardInWords,
  store: Pick<ContentStore, 'pathOf'>,
  work: () => Promise<T>,
): Promise<T> {
  try {
    return await work()
  } catch (error) {
    throw await inWords(error, card, store)
  }
}

async function inWords(
  error: unknown,
  { fonts, files }: CardInWords,
  store: Pick<ContentStore, 'pathOf'>,
): Promise<unknown> {
  if (!(error instanceof AppError) || error.code !== 'store/damaged') return error
  const file = files.find(({ path }) => path === error.where)
  const font = fonts.find(({ folder }) => error.where.startsWith(`${folder}/`))
  const copy = file && (await store.pathOf(file.sha256))
  if (copy === undefined) return error
  const { code, what, where, kind } = error
  return new AppError(
    {
      code,
      what,
      where: font === undefined ? where : `font "${font.fontName}", ${where}`,
      mend: `Check the disk. Then delete ${copy}, scan the folder of the font again, prepare it again where it was prepared, and make the card anew.`,
      kind,
    },
    { cause: error },
  )
}
