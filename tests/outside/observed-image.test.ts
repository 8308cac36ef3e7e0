import { execFileSync } from 'node:child_process'
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, expect } from 'vitest'
import { cardObserver } from '../../main/adapters/files/card-observer.ts'
import { openWorkerInspector } from '../../main/workers/worker-inspector.ts'
import { plainWave } from '../support/plain-wave.ts'
import { testAgainst } from '../support/reference-tools.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'

/** Images of cards that others made: dosfstools' mkfs.fat, sfdisk of util-linux, mtools. */
const withTools = testAgainst('mkfs.fat', 'mcopy', 'sfdisk')
const inspector = openWorkerInspector()
afterAll(() => inspector.close())
const control = { onProgress: () => {}, cancel: new AbortController().signal }

const SECTOR_BYTES = 512
const SIZE_MIB = 300

withTools.each([
  { fat: 16, clusterBytes: 8192, startSector: 0, alignmentBytes: null },
  { fat: 16, clusterBytes: 32_768, startSector: 63, alignmentBytes: 512 },
  { fat: 32, clusterBytes: 512, startSector: 2048, alignmentBytes: 512 },
  { fat: 32, clusterBytes: 4096, startSector: 0, alignmentBytes: null },
])(
  'a card of others shows its files and how it is cut: FAT$fat, clusters of $clusterBytes, from sector $startSector',
  async ({ fat, clusterBytes, startSector, alignmentBytes }) => {
    const folder = temporaryFolder()
    const image = join(folder, 'card.img')
    const sectors = (SIZE_MIB << 20) / SECTOR_BYTES
    execFileSync('truncate', ['-s', `${SIZE_MIB}M`, image])
    if (startSector > 0) {
      const type = fat === 16 ? '6' : 'c'
      execFileSync('sfdisk', ['-q', image], { input: `label: dos\nstart=${startSector}, type=${type}\n` })
    }
    const perCluster = String(clusterBytes / SECTOR_BYTES)
    const kibibytes = String(Math.floor((sectors - startSector) / 2))
    const offset = startSector === 0 ? [] : ['--offset', String(startSector)]
    execFileSync('mkfs.fat', [
      ...['-F', String(fat), '-s', perCluster, '-g', '255/63', '-a'],
      ...[...offset, image, kibibytes],
    ])
    const font = join(folder, 'Ember Loom')
    mkdirSync(font)
    writeFileSync(join(font, 'hum.wav'), plainWave(3, 50_000))
    writeFileSync(join(font, 'clash with a long name.wav'), plainWave(4))
    execFileSync('mcopy', ['-s', '-i', `${image}@@${startSector * SECTOR_BYTES}`, font, '::'])

    const { files, volume } = await cardObserver(inspector).observe(image, control)
    expect(volume).toMatchObject({
      fileSystem: `fat${fat}`,
      clusterBytes,
      sizeBytes: SIZE_MIB << 20,
      partitionTable: startSector === 0 ? null : 'mbr',
    })
    if (alignmentBytes === null) expect(volume?.alignmentBytes).toBeNull()
    else expect(volume?.alignmentBytes).toBeGreaterThanOrEqual(alignmentBytes)
    expect(files.map((file) => file.path).toSorted()).toEqual([
      'Ember Loom/clash with a long name.wav',
      'Ember Loom/hum.wav',
    ])
    expect(files.find((file) => file.path.endsWith('hum.wav'))?.inspection?.facts?.frames).toBe(50_000)
  },
)
