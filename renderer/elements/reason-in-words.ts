/** Why a measure has no value, by the reason's code. */
const WORDS: Readonly<Record<string, string>> = {
  'no-samples': 'there are no samples',
  'too-many-channels': 'it has more channels than are measured',
  'sample-rate-out-of-range': 'its sample rate is outside 8 to 192 kHz',
  'coding-not-decoded': 'its coding could not be decoded',
  'wild-samples': 'its samples are no sound',
  silent: 'it is silent',
  'below-the-gate': 'it is too soft to count',
  'shorter-than-400-ms': 'it is shorter than 400 ms',
  'shorter-than-3-s': 'it is shorter than 3 s',
  'shorter-than-10-ms': 'it is shorter than 10 ms',
  'fewer-than-2-frames': 'it has fewer than two samples',
  constant: 'all its samples are alike',
}

export function reasonInWords(code: string | undefined): string {
  if (code === undefined) return ''
  return WORDS[code] ?? code.replaceAll('-', ' ')
}
