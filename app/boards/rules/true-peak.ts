import { rounded } from '../in-words.ts'
import { measuresRule } from './rule.ts'

export const truePeak = measuresRule('true-peak', (measures, _sound, { board }) => {
  const ceiling = board.levels.ceilingDbtp
  const peak = measures.levels.truePeakDbtp
  if (ceiling === null || peak === null || peak <= ceiling) return null
  return {
    // Above by less than a tenth shows, told to the thousandth.
    message: `Its true peak is ${rounded(peak, peak - ceiling < 0.05 ? 3 : 1)} dBTP; the board's ceiling is ${ceiling} dBTP.`,
    why: "The board's amplifier clips between the samples: it sounds harsh.",
    mend: 'Prepare can turn it down or limit it.',
    fixable: true,
    measured: peak,
    limit: ceiling,
  }
})
