import { cardNames, cardPath, type CardName } from '../boards/card-names.ts'
import { folderNameOf } from '../boards/folder-name.ts'
import { nameFault } from '../cards/card-name.ts'
import { utf8Bytes } from '../cards/utf8-bytes.ts'
import type { Edition } from '../model/library.ts'
import type { CardFile } from '../model/plan.ts'
import type { NewHasher } from '../ports/bytes.ts'
import type { CardOrder } from './card-order.ts'

/** A font as it lies on the card. */
export interface CardFont {
  readonly slot: number
  readonly folder: string
  readonly edition: Edition
  /** Its files in play order, then its companions, then those that belong to the whole card. */
  readonly files: readonly CardFile[]
}

/** All of a card but the two documents, in the order in which the board is to meet it. */
export interface CardContents {
  readonly fonts: readonly CardFont[]
  readonly files: readonly CardFile[]
  /** Bytes that no edition has, by their hash: the config. */
  readonly ownBytes: ReadonlyMap<string, Uint8Array>
}

/**
 * Names every file of the card: fonts in order, each in its folder, sounds in play order, then its
 * companions; after the fonts the sounds of the whole card, then the config.
 *
 * Sounds that the board's scheme has no name for are left out. Of the sounds that belong to the whole
 * card, each role comes from the first font that has it.
 */
export function cardContentsOf(order: CardOrder, newHasher: NewHasher): CardContents {
  const { board } = order
  const wideRoles = new Map<string, Edition>()
  const named = order.editions.map((edition, index) => {
    const slot = board.fonts.firstSlot + index
    const folder = folderNameOf(board, slot, edition.font.name)
    const files = filesOf(order, edition, folder)
    for (const { name } of files.wide) {
      const role = name.place?.role ?? ''
      if (!wideRoles.has(role)) wideRoles.set(role, edition)
    }
    return { slot, folder, edition, files }
  })
  const fonts = named.map(({ slot, folder, edition, files }) => {
    const wide = files.wide.filter(({ name }) => wideRoles.get(name.place?.role ?? '') === edition)
    return { slot, folder, edition, own: files.own.map(fileOf), wide: wide.map(fileOf) }
  })
  const config = configFile(order, newHasher)
  return {
    fonts: fonts.map(({ own, wide, ...font }) => ({ ...font, files: [...own, ...wide] })),
    files: [
      ...fonts.flatMap(({ own }) => own),
      ...fonts.flatMap(({ wide }) => wide),
      ...(config === null ? [] : [config.file]),
    ],
    ownBytes: new Map(config === null ? [] : [[config.file.sha256, config.bytes]]),
  }
}

interface NamedFile {
  readonly name: CardName
  readonly file: CardFile
}

const fileOf = (named: NamedFile): CardFile => named.file

function filesOf(
  order: CardOrder,
  edition: Edition,
  folder: string,
): { own: readonly NamedFile[]; wide: readonly NamedFile[] } {
  const companions = new Map(edition.companions.map((companion) => [companion.path, companion]))
  const sounds = new Map(edition.sounds.map((sound) => [sound.path, sound]))
  const names = cardNames(edition.sounds, [...companions.keys()], order.board, order.scheme)
  const files = names.flatMap((name): NamedFile[] => {
    const path = cardPath(order.board, folder, name)
    const sound = name.kind === 'sound' ? sounds.get(name.from) : undefined
    const bytes = sound?.inspection ?? companions.get(name.from)
    if (path === null || bytes === undefined) return []
    const { editionId, path: from } = sound?.source ?? { editionId: edition.id, path: name.from }
    const origin = { kind: name.kind, editionId, path: from } as const
    const { sizeBytes, sha256 } = bytes
    return [
      { name, file: { path: name.kind === 'companion' ? heldPath(path) : path, sizeBytes, sha256, origin } },
    ]
  })
  return {
    own: files.filter(({ name }) => name.area === 'font'),
    wide: files.filter(({ name }) => name.area === 'card'),
  }
}

/** A companion's name means nothing to the board: where a card cannot hold it, it is marked. */
function heldPath(path: string): string {
  return path
    .split('/')
    .map((step) => (nameFault(step) === null ? step : `_${step}`))
    .join('/')
}

function configFile(order: CardOrder, newHasher: NewHasher): { file: CardFile; bytes: Uint8Array } | null {
  const config = order.build?.config ?? null
  if (config === null) return null
  const bytes = utf8Bytes(config.text)
  const hasher = newHasher()
  hasher.update(bytes)
  const path = order.board.config?.file ?? config.fileName
  return {
    file: { path, sizeBytes: bytes.length, sha256: hasher.digestHex(), origin: { kind: 'config' } },
    bytes,
  }
}
