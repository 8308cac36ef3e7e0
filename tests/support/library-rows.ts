import { createHash } from 'node:crypto'
import type { Content } from '../../app/model/content.ts'
import type { EditionSummary } from '../../app/model/library.ts'
import type { SoundInspection } from '../../app/model/sound.ts'
import type { ScanOutcome, ScannedEdition } from '../../app/ports/library-records.ts'

/** Rows for tests of whoever keeps the library; values are made up, shapes are real. */

export function inspectionOf(name: string): SoundInspection {
  return {
    sha256: createHash('sha256').update(name).digest('hex'),
    sizeBytes: 1000 + name.length,
    sampleHash: createHash('sha256').update(`samples of ${name}`).digest('hex'),
    facts: {
      container: 'riff',
      coding: 'pcm',
      formatTag: 1,
      channels: 1,
      sampleRateHz: 44_100,
      bitDepth: 16,
      validBits: 16,
      frames: 500,
      seconds: 500 / 44_100,
      chunks: [{ id: 'fmt ', offset: 12, sizeBytes: 16 }],
      loops: [],
      tags: {},
      defects: [],
    },
    measures: null,
    problem: null,
  }
}

/** An edition of sounds named for their bytes: `sounds` are paths, or path and bytes. */
export function scannedEdition(
  path: string,
  sounds: readonly (string | readonly [path: string, bytes: string])[],
  more: Partial<ScannedEdition> = {},
): ScannedEdition {
  return {
    place: { path, innerPath: null },
    fontName: path.split('/').at(-1) ?? path,
    version: '',
    proposedCreatorName: null,
    schemeId: 'plain-words',
    sounds: sounds.map((sound) => {
      const [soundPath, bytes] = typeof sound === 'string' ? [sound, sound] : sound
      return {
        path: soundPath,
        sha256: inspectionOf(bytes).sha256,
        place: { role: 'hum', part: 'body', layer: null, number: null },
        roleSource: 'scheme',
      }
    }),
    companions: [],
    litter: [],
    editionId: null,
    ...more,
  }
}

/** A finished scan of these editions, whose contents are all told anew. */
export function scanOutcome(
  rootId: string,
  editions: readonly ScannedEdition[],
  bytes: readonly string[],
  more: Partial<ScanOutcome> = {},
): ScanOutcome {
  return {
    rootId,
    at: '2026-11-25T09:00:00Z',
    newInspections: bytes.map(inspectionOf),
    newPeaks: [],
    files: editions.flatMap((edition) =>
      edition.sounds.map((sound) => ({
        path: `${edition.place.path.replace('/fonts/', '')}/${sound.path}`,
        sizeBytes: 1000,
        modifiedNs: '1764061200000000000',
        fileKey: '42',
        sha256: sound.sha256,
      })),
    ),
    editions,
    problems: [],
    treeDigest: 'digest',
    ...more,
  }
}

/** A content of one font, with a creator to be credited. */
export function contentOf(fingerprint: string, edition: EditionSummary, createdAt: string): Content {
  return {
    fingerprint,
    createdAt,
    boardId: 'bench-44',
    boardHash: 'b'.repeat(64),
    buildId: null,
    geometry: {
      fatType: 'fat32',
      sectorBytes: 512,
      clusterBytes: 4096,
      imageBytes: 512 * 1024 * 1024,
      partitionStartSector: 8192,
      partitionSectors: 1_040_384,
      reservedSectors: 32,
      fatSectors: 1016,
      rootEntryCount: 0,
      clusterCount: 129_792,
    },
    fonts: [
      {
        slot: 1,
        folder: '01-a',
        editionId: edition.id,
        fontId: edition.font.id,
        fontName: edition.font.name,
        version: edition.version,
        creatorName: 'Tidewater Bench',
        sizeBytes: 1007,
      },
    ],
    files: [
      {
        path: '01-a/hum.wav',
        sizeBytes: 1007,
        sha256: 'c'.repeat(64),
        firstCluster: 4,
        clusterCount: 1,
        origin: { kind: 'sound', editionId: edition.id, path: 'hum.wav' },
      },
    ],
    imageHash: 'd'.repeat(64),
    toolVersion: '0.1.0',
    acceptedFindings: [{ rule: 'sound/clipped', path: 'hum.wav', reason: 'wanted so' }],
  }
}
