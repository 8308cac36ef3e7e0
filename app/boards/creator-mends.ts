import type { Finding } from '../model/finding.ts'
import { SWITCHED_OFF_MEND } from './judge.ts'
import type { RuleId } from './rules/severities.ts'

type CreatorMend = (finding: Finding) => string

/**
 * How a font's creator puts a finding right: at the source, in an editor of theirs. Rules that are not
 * here are mended by everyone in the same way.
 */
export const CREATOR_MENDS: Readonly<Partial<Record<RuleId, CreatorMend>>> = {
  container: ({ limit }) => `Export it again as WAV (${limit}).`,
  coding: ({ limit }) => `Export it again, coded as ${limit}.`,
  'sample-rate': ({ limit }) => `Export it again at ${limit} Hz.`,
  'one-rate': ({ limit }) => `Export it again at ${limit} Hz, as the other sounds of the font.`,
  'bit-depth': ({ limit }) => `Export it again with ${limit} bit.`,
  channels: ({ limit }) =>
    limit === '1' ? 'Export it again in mono.' : `Export it again with ${limit} channels.`,
  'plain-header': () =>
    'Export it again without markers, tags and other extras: the format and the samples alone.',
  truncated: () => 'Export it again: the end of the file is missing.',
  defects: () => 'Export it again: the samples are whole, what is written around them is not.',
  unreadable: () => 'Export it again.',
  empty: () => 'Export it again, or leave it out of the font.',
  silent: () => 'Export it again; if the silence is meant, nothing needs to be done.',
  'too-large': ({ fixable, mend }) =>
    fixable ? 'Export it again with the rate, depth and channels that the board plays.' : mend,
  clipped: () => 'Export it again with room above the loudest peak: what is cut away cannot be brought back.',
  'dc-offset': () => 'Take the offset out in an editor: every sample is shifted by the same amount.',
  'true-peak': ({ limit }) => `Turn it down, or limit it, so that no true peak is above ${limit} dBTP.`,
  level: ({ limit }) =>
    `Bring it to ${limit} LUFS; move the sounds of the font together, so that their balance stays.`,
  'level-spread': () => 'Bring the sounds of one kind closer together in level.',
  'slow-onset': () => 'Trim the silence before it.',
  'trailing-silence': () => 'Trim the silence behind it.',
  'loop-seam': () => 'Move the loop to a place where its ends meet, and blend its end into its beginning.',
  'loop-dip': () => 'Cut the soft ends off, and blend the end into the beginning.',
  'pair-lengths': () => 'Cut both to one length.',
  'low-share': () => 'Take out what such a speaker cannot give.',
  'unknown-sound': () => 'Say what it is for, or give it a name that says so.',
  'scheme-name': () => 'Nothing to do: the card gets names that fit.',
  litter: () => 'Leave it out of the font: it is left there by an operating system.',
}

/** The mend of a finding in words for the font's creator, who has none of this program. */
export function creatorMend(finding: Finding): string {
  if (finding.mend === SWITCHED_OFF_MEND) return finding.mend
  return CREATOR_MENDS[finding.rule as RuleId]?.(finding) ?? finding.mend
}
