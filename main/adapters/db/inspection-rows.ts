import type { AudioFacts } from '../../../app/model/audio-facts.ts'
import type { Measures } from '../../../app/model/measures.ts'
import type { SoundInspection } from '../../../app/model/sound.ts'
import type { PeaksPlace } from '../../../app/ports/peaks-archive.ts'
import type { Connection } from './connection.ts'
import type { InspectionRow } from './tables.ts'

export function inspectionOf(row: InspectionRow): SoundInspection {
  return {
    sha256: row.sha256,
    sizeBytes: row.size_bytes,
    sampleHash: row.sample_hash,
    facts: row.facts === null ? null : (JSON.parse(row.facts) as AudioFacts),
    measures: row.measures === null ? null : (JSON.parse(row.measures) as Measures),
    problem:
      row.problem_code === null ? null : { code: row.problem_code, message: row.problem_message ?? '' },
  }
}

/** What was read again replaces what was known: a reading that failed once may have held this time. */
export function putInspections(connection: Connection, inspections: readonly SoundInspection[]): void {
  const put = connection.prepare(
    `INSERT OR REPLACE INTO inspection
       (sha256, size_bytes, sample_hash, container, coding, sample_rate_hz, bit_depth, channels, seconds,
        integrated_lufs, facts, measures, problem_code, problem_message)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  )
  for (const { sha256, sizeBytes, sampleHash, facts, measures, problem } of inspections) {
    put.run(
      sha256,
      sizeBytes,
      sampleHash,
      facts?.container ?? null,
      facts?.coding ?? null,
      facts?.sampleRateHz ?? null,
      facts?.bitDepth ?? null,
      facts?.channels ?? null,
      facts?.seconds ?? null,
      measures?.levels.integratedLufs ?? null,
      facts === null ? null : JSON.stringify(facts),
      measures === null ? null : JSON.stringify(measures),
      problem?.code ?? null,
      problem?.message ?? null,
    )
  }
}

export function putPeaksPlaces(connection: Connection, places: readonly PeaksPlace[]): void {
  const put = connection.prepare(
    'INSERT OR REPLACE INTO peaks_place (sha256, pack, offset_bytes, length_bytes) VALUES (?, ?, ?, ?)',
  )
  for (const { sha256, pack, offsetBytes, lengthBytes } of places) {
    put.run(sha256, pack, offsetBytes, lengthBytes)
  }
}
