import { memo } from 'react'
import { lengthInWords } from './in-words.ts'

interface OutlineProps {
  /** -127 to 127, one pair a column. */
  readonly lowest: readonly number[]
  readonly highest: readonly number[]
}

interface WaveformStripProps extends OutlineProps {
  readonly seconds: number | null
  /** What is heard now, 0 at the beginning and 1 at the end; null while nothing plays. */
  readonly at?: number | null
}

/** A sound's outline: from each column's lowest to its highest sample, full scale top to bottom. */
export function WaveformStrip({ lowest, highest, seconds, at = null }: WaveformStripProps) {
  const peak = Math.max(...highest.map(Math.abs), ...lowest.map(Math.abs), 0) / 127
  const share = `${Math.round(peak * 100)} % of full scale`
  const columns = Math.max(1, highest.length - 1)
  return (
    <svg
      className="waveform"
      role="img"
      aria-label={`Waveform: ${lengthInWords(seconds)}, highest at ${share}`}
      viewBox={`0 -128 ${columns} 256`}
      preserveAspectRatio="none"
    >
      <path className="waveform-middle" d={`M0 0H${highest.length}`} />
      <Outline lowest={lowest} highest={highest} />
      {at !== null && <path className="waveform-now" d={`M${at * columns} -128V128`} />}
    </svg>
  )
}

/** Drawn once, however often the place that is heard moves on. */
const Outline = memo(function Outline({ lowest, highest }: OutlineProps) {
  const upper = highest.map((value, column) => `${column},${-value}`)
  const lower = lowest.map((value, column) => `${column},${-Math.min(value, highest[column] ?? value)}`)
  return <path className="waveform-outline" d={`M${upper.join('L')}L${lower.toReversed().join('L')}Z`} />
})
