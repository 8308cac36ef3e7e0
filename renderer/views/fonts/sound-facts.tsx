import type { Measures } from '../../../app/model/measures.ts'
import type { SoundInspection } from '../../../app/model/sound.ts'
import { inUnits } from '../../../app/model/in-units.ts'
import { reasonInWords } from '../../elements/reason-in-words.ts'

/** What the file is and how it sounds, each number with its unit, each missing one with its cause. */
export function SoundFacts({ inspection }: { readonly inspection: SoundInspection }) {
  const { facts, measures, problem, sizeBytes, sha256, sampleHash } = inspection
  return (
    <div className="two-columns">
      <section className="sheet">
        <h2>File</h2>
        {problem !== null && <p>{problem.message}</p>}
        <FactList
          rows={[
            ['Size', `${inUnits(sizeBytes)} (${sizeBytes.toLocaleString('en')} bytes)`],
            ['Container', facts?.container],
            ['Coding', facts && `${facts.coding} (format tag ${facts.formatTag ?? 'none'})`],
            ['Sample rate', facts?.sampleRateHz && `${facts.sampleRateHz} Hz`],
            ['Channels', facts?.channels],
            ['Bits', facts && bitsInWords(facts.bitDepth, facts.validBits)],
            ['Frames', facts?.frames?.toLocaleString('en')],
            ['Chunks', facts?.chunks.map((chunk) => `${chunk.id.trim()} at ${chunk.offset}`).join(', ')],
            ['Loop points', facts?.loops.map((loop) => `${loop.start} to ${loop.end}`).join(', ')],
            ...Object.entries(facts?.tags ?? {}).map(([tag, text]) => [`Tag ${tag}`, text] as const),
            ['SHA-256', sha256],
            ['Hash of the samples', sampleHash],
          ]}
        />
        {facts !== null && facts.defects.length > 0 && (
          <>
            <h3>Defects of the file</h3>
            <ul>
              {facts.defects.map((defect) => (
                <li key={`${defect.code} ${defect.offset}`}>
                  {defect.message} <span className="quiet">(byte {defect.offset.toLocaleString('en')})</span>
                </li>
              ))}
            </ul>
          </>
        )}
      </section>
      <section className="sheet">
        <h2>Measured</h2>
        {measures === null ? (
          <p className="quiet">Nothing could be measured.</p>
        ) : (
          <FactList rows={measuredRows(measures)} />
        )}
      </section>
    </div>
  )
}

type Row = readonly [name: string, value: string | number | null | undefined]

function measuredRows(measures: Measures): Row[] {
  const { levels, seam, reasons } = measures
  const told = (key: string, value: number | null, unit: string, digits = 1): string =>
    value === null
      ? `none: ${reasonInWords(reasons[key])}`
      : `${value.toFixed(digits).replace('-', '−')} ${unit}`
  return [
    ['Integrated loudness', told('integratedLufs', levels.integratedLufs, 'LUFS')],
    ['Momentary maximum', told('momentaryMaxLufs', levels.momentaryMaxLufs, 'LUFS')],
    ['Short-term maximum', told('shortTermMaxLufs', levels.shortTermMaxLufs, 'LUFS')],
    ['Loudness range', told('rangeLu', levels.rangeLu, 'LU')],
    ['True peak', told('truePeakDbtp', levels.truePeakDbtp, 'dBTP')],
    ['Sample peak', told('samplePeakDbfs', levels.samplePeakDbfs, 'dBFS')],
    ['RMS', told('rmsDbfs', levels.rmsDbfs, 'dBFS')],
    ['Off the middle (DC)', told('dcOffset', percent(measures.dcOffset), '% of full scale', 2)],
    ['Clipped runs', told('clippedRuns', measures.clippedRuns, 'places', 0)],
    ['Onset', told('onsetMs', measures.onsetMs, 'ms')],
    ['Silence before', told('leadingSilenceMs', measures.leadingSilenceMs, 'ms')],
    ['Silence after', told('trailingSilenceMs', measures.trailingSilenceMs, 'ms')],
    ['Share below 200 Hz', told('lowShare', percent(measures.lowShare), '%', 0)],
    ['Seam jump', told('seam.jumpRatio', seam.jumpRatio, 'times the usual step')],
    ['Seam dip', told('seam.dipDb', seam.dipDb, 'dB')],
  ]
}

const percent = (share: number | null): number | null => (share === null ? null : share * 100)

function bitsInWords(bitDepth: number | null, validBits: number | null): string | null {
  if (bitDepth === null) return null
  return validBits === null || validBits === bitDepth ? `${bitDepth}` : `${validBits} of ${bitDepth}`
}

function FactList({ rows }: { readonly rows: readonly Row[] }) {
  return (
    <dl className="fact-list">
      {rows
        .filter(([, value]) => value !== null && value !== undefined && value !== '')
        .map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd className="break">{value}</dd>
          </div>
        ))}
    </dl>
  )
}
