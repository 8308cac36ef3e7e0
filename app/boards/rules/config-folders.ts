import type { CardLook } from './card-look.ts'

/** Longer lines are no settings, and would let a pattern run long. */
const LONGEST_LINE = 2000

/** Folders that a config file names, in its order, by the board's pattern; null where the board or the card has none. */
export function foldersNamed({ board, config }: CardLook): readonly string[] | null {
  const source = board.config?.fontPattern ?? null
  if (config === null || source === null) return null
  const pattern = new RegExp(source, 'u')
  return config.text
    .split(/\r\n|\r|\n/)
    .filter((line) => line.length <= LONGEST_LINE)
    .flatMap((line) => {
      const name = pattern.exec(line)?.[1]
      return name === undefined || name === '' ? [] : [name]
    })
}

/** FAT tells no small letter from a capital one. */
export function folderKey(folder: string): string {
  return folder.normalize('NFC').toUpperCase()
}
