import { describe, expect, test } from 'vitest'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { stretchesOfContent, stretchesOfSize } from '../../../renderer/views/cards/card-stretches.ts'

const COST = {
  editionId: 'ember',
  slot: 0,
  font: 'Ember Loom',
  folder: '00-ember-loom',
  files: 2,
  contentBytes: 4098,
  slackBytes: 8190,
  directoryBytes: 4096,
  usedBytes: 16_384,
}

function sizeOf(usedBytes: number): ResponseOf<'size'> {
  return {
    board: 'bench-32',
    fileSystem: 'fat16',
    clusterBytes: 4096,
    cardBytes: null,
    imageBytes: 33_554_432,
    usedBytes,
    freeBytes: 30_000_000,
    contentBytes: 4098,
    slackBytes: 8190,
    fits: true,
    missingBytes: 0,
    waysToFit: [],
    readCost: null,
    fonts: [COST],
  }
}

describe('the stretches of a card', () => {
  test('are numbered as the board counts, and tell to the byte what a font takes', () => {
    expect(stretchesOfSize(sizeOf(16_384))).toEqual([
      {
        id: 'ember',
        number: 0,
        name: 'Ember Loom',
        usedBytes: 16_384,
        told: 'Ember Loom: folder 00-ember-loom, 2 files. 16,384 bytes of the card: 4.0 KiB of files, 8.0 KiB in the unused ends of clusters, 4 KiB for the folder itself.',
      },
    ])
  })

  test('come to all that is used: the rest lies in the root', () => {
    const stretches = stretchesOfSize(sizeOf(20_480))
    expect(stretches.map(({ number, usedBytes }) => [number, usedBytes])).toEqual([
      [0, 16_384],
      [null, 4096],
    ])
  })

  test('of a content name each font with its version, its maker and its files', () => {
    const file = (path: string) => ({ path, sizeBytes: 1, sha256: 'a'.repeat(64), kind: 'sound' as const })
    const stretches = stretchesOfContent({
      fingerprint: '7Q2M4K9XZA',
      createdAt: '2026-01-01T00:00:00.000Z',
      board: 'bench-44',
      boardHash: '',
      build: null,
      builds: [],
      fileSystem: 'fat32',
      clusterBytes: 4096,
      imageBytes: 300_000_000,
      imageHash: '',
      toolVersion: '0.1.0',
      usedBytes: 20_480,
      freeBytes: 1,
      fonts: [
        {
          editionId: 'ember',
          slot: 1,
          folder: '01-ember',
          font: 'Ember Loom',
          version: '2',
          creator: 'Varnisk',
          sizeBytes: 2,
          usedBytes: 16_384,
        },
      ],
      // A folder whose name begins alike is another's.
      files: [file('01-ember/hum.wav'), file('01-ember/clash.wav'), file('01-ember-two/hum.wav')],
      config: null,
      singleSounds: [],
      lenders: [],
      recipes: [],
      acceptedFindings: [],
      ruleChanges: [],
    })
    expect(stretches.map(({ told }) => told)).toEqual([
      'Number 1 is Ember Loom 2 by Varnisk: folder 01-ember, 2 files, 16,384 bytes of the card.',
      expect.stringContaining('4,096 bytes of the card.'),
    ])
  })
})
