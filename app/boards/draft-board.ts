import { stringify } from 'yaml'
import type { ObservedCard, ObservedFile } from '../model/observed-card.ts'
import { isPlainHeader } from './rules/plain-header.ts'
import { SCHEMA_LINE } from './board-text.ts'
import { draftFonts } from './draft-fonts.ts'
import { draftNames } from './draft-names.ts'
import type { Scheme } from './scheme.ts'

export interface DraftedBoard {
  /** A complete board file. */
  readonly text: string
  readonly soundCount: number
  /** Folders that hold fonts, in the order of the directory. */
  readonly fontFolders: readonly string[]
}

/**
 * Drafts a board from a card that plays. Everything in it was seen to play, and is marked so; what one
 * card cannot show (which roles are needed, what the board would refuse) is left out and so unknown.
 * A limit on how much is the most that was seen: the board may take more.
 */
export function draftBoard(
  id: string,
  title: string,
  card: ObservedCard,
  schemes: readonly Scheme[],
): DraftedBoard {
  const sounds = card.files.filter((file) => file.kind === 'sound')
  const fonts = draftFonts(card, schemes)
  const sections: Record<string, Record<string, unknown>> = {
    audio: draftAudio(sounds),
    fonts: fonts.limits,
    names: draftNames(card, fonts.schemeId),
    card: draftCard(card),
  }
  const known = Object.fromEntries(
    Object.entries(sections).flatMap(([section, limits]) =>
      Object.keys(limits).map((key) => [`${section}.${key}`, 'seen playing']),
    ),
  )
  const notes = `Drafted from a card that plays: ${sounds.length} sounds in ${fonts.folders.length} fonts. What was not seen is not known.`
  const filled = Object.entries(sections).filter(([, limits]) => Object.keys(limits).length > 0)
  const text = stringify(
    { board: { id, title, notes }, ...Object.fromEntries(filled), known },
    { lineWidth: 100, aliasDuplicateObjects: false },
  )
  return { text: `${SCHEMA_LINE}\n${text}`, soundCount: sounds.length, fontFolders: fonts.folders }
}

function draftAudio(sounds: readonly ObservedFile[]): Record<string, unknown> {
  const facts = sounds.flatMap(({ inspection }) => (inspection?.facts ? [inspection.facts] : []))
  if (facts.length === 0) return {}
  const seconds = facts.flatMap((each) => (each.seconds === null ? [] : [each.seconds]))
  const isPlain = facts.every(isPlainHeader)
  return {
    containers: distinct(facts.map((each) => each.container)),
    codings: distinct(facts.map((each) => each.coding)),
    ...filled('sampleRatesHz', distinctNumbers(facts.map((each) => each.sampleRateHz))),
    ...filled('bitDepths', distinctNumbers(facts.map((each) => each.bitDepth))),
    ...filled('channels', distinctNumbers(facts.map((each) => each.channels))),
    header: isPlain ? 'plain' : 'any',
    ...(seconds.length === 0 ? {} : { longestSeconds: Math.max(1, Math.ceil(Math.max(...seconds))) }),
    largestBytes: Math.max(1, ...sounds.map((sound) => sound.sizeBytes)),
  }
}

function draftCard({ files, volume }: ObservedCard): Record<string, unknown> {
  const extra = files.some(
    (file) => file.kind !== 'sound' && file.kind !== 'litter' && !file.path.includes('/'),
  )
  const isWritable = volume !== null && volume.clusterBytes >= 512 && volume.clusterBytes <= 32_768
  return {
    // How large a card may be, one card cannot show: a larger one would be refused without a reason.
    ...(volume === null ? {} : { fileSystems: [volume.fileSystem] }),
    ...(isWritable ? { clusterBytes: volume.clusterBytes } : {}),
    ...(volume?.partitionTable ? { partitionTable: volume.partitionTable } : {}),
    ...(volume?.alignmentBytes ? { alignmentBytes: volume.alignmentBytes } : {}),
    ...(extra ? { extraFilesInRoot: true } : {}),
  }
}

function filled(key: string, values: readonly number[]): Record<string, readonly number[]> {
  return values.length === 0 ? {} : { [key]: values }
}

function distinct<T extends string>(values: readonly T[]): readonly T[] {
  return [...new Set(values)].sort()
}

function distinctNumbers(values: readonly (number | null)[]): readonly number[] {
  return [...new Set(values.filter((value) => value !== null && value > 0))].sort(
    (a, b) => (a ?? 0) - (b ?? 0),
  ) as number[]
}
