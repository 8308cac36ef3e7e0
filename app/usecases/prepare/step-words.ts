import type { ResponseOf } from '../../contract/calls.ts'

type SoundRow = ResponseOf<'prepare'>['fonts'][number]['sounds'][number]

/** A step in a few words with its numbers; empty for reading, which is no change. */
export function stepWords({ step, numbers }: Pick<SoundRow['steps'][number], 'step' | 'numbers'>): string {
  const number = (key: string) => (typeof numbers[key] === 'number' ? numbers[key] : 0)
  switch (step) {
    case 'decode':
      return ''
    case 'channels':
      if (numbers['how'] === 'keep') return `channel ${number('kept') + 1} kept`
      return numbers['how'] === 'fold' ? `folded to ${number('to')}` : `spread to ${number('to')}`
    case 'sample-rate':
      return `${number('fromHz')} → ${number('toHz')} Hz`
    case 'remove-dc':
      return 'DC removed'
    case 'trim':
      return `trimmed ${number('leadMs').toFixed(0)} ms before, ${number('tailMs').toFixed(0)} ms behind`
    case 'repair-seam':
      return `seam closed over ${number('crossfadeMs')} ms`
    case 'high-pass':
      return `high-pass at ${number('frequencyHz')} Hz`
    case 'gain':
      return `${number('gainDb') > 0 ? '+' : '−'}${Math.abs(number('gainDb')).toFixed(1)} dB`
    case 'ceiling':
      return `peaks below ${number('ceilingDbtp')} dBTP`
    case 'bit-depth':
      return `${number('bitDepth')} bit${numbers['dither'] === 'tpdf' ? ', dithered' : ''}`
    case 'header':
      return 'plain header'
  }
}

/**
 * What differs between before and after, a line a value; a seam is one of loops only. Where nothing was
 * made yet, what would come of it as far as its steps tell.
 */
export function changeWords({ before, after, foreseen, isLoop, steps }: SoundRow): readonly string[] {
  const then = after ?? foreseen
  if (then === null) return []
  const hadDc = steps.some(({ step }) => step === 'remove-dc')
  const pairs: readonly Pair[] = [
    ['Hz', plain(before.sampleRateHz), plain(then.sampleRateHz)],
    ['bit', plain(before.bitDepth), plain(then.bitDepth)],
    ['channels', plain(before.channels), plain(then.channels)],
    ['s', fixed(before.seconds, 3), fixed(then.seconds, 3)],
    ...levelPair(before.levelLufs, then.levelLufs, after === null),
    ...(after === null ? [] : measuredPairs(before, after, { hadDc, isLoop })),
  ]
  return pairs
    .filter(([, was, is]) => was !== is)
    .map(([unit, was, is]) => `${was ?? '–'} → ${is ?? '–'} ${unit}`)
}

type Pair = readonly [unit: string, was: string | null, is: string | null]

/** A level that only measuring would tell is left out, not told as none. */
function levelPair(was: number | null, is: number | null, isForeseen: boolean): readonly Pair[] {
  return isForeseen && is === null ? [] : [['LUFS', fixed(was, 1), fixed(is, 1)]]
}

/** What only shows when it has been made. */
function measuredPairs(
  before: SoundRow['before'],
  after: SoundRow['before'],
  { hadDc, isLoop }: { readonly hadDc: boolean; readonly isLoop: boolean },
): readonly Pair[] {
  return [
    ['dBTP', fixed(before.truePeakDbtp, 1), fixed(after.truePeakDbtp, 1)],
    ...(hadDc ? [['DC', fixed(before.dcOffset, 3), fixed(after.dcOffset, 3)] as const] : []),
    ...(isLoop
      ? [
          ['seam jump', fixed(before.jumpRatio, 1), fixed(after.jumpRatio, 1)] as const,
          ['dB seam dip', fixed(before.dipDb, 1), fixed(after.dipDb, 1)] as const,
        ]
      : []),
  ]
}

function plain(value: number | null): string | null {
  return value === null ? null : String(value)
}

function fixed(value: number | null, digits: number): string | null {
  if (value === null) return null
  const text = value.toFixed(digits)
  // No minus before a zero.
  return Number(text) === 0 ? (0).toFixed(digits) : text
}
