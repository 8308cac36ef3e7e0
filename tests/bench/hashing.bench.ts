import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { has, mustRun, notRun, pairedMedians, type Bench } from './bench-kit.ts'
import { soundLibrary } from './sound-library.ts'

const measureScript = fileURLToPath(new URL('./measure-files.ts', import.meta.url))

/** One read for the file's hash and all measures, against openssl and then the same pass without a hash. */
export const hashAndMeasureAtOnce: Bench = {
  id: 'P3',
  title: 'SHA-256 and all measures in one read, against the two apart',
  run: async (context) => {
    const peer = 'openssl dgst -sha256 FILE..., then our own pass without the hash of files, two workers'
    if (!has('openssl')) return notRun(peer, 'openssl is not installed')
    const files = soundLibrary(context.dataFolder, context.scale)
    const list = join(context.dataFolder, 'library.list')
    writeFileSync(list, files.map(({ path, sizeBytes }) => `${sizeBytes}\t${path}\n`).join(''))
    const times = await pairedMedians(
      context.rounds,
      () => mustRun(process.execPath, [measureScript, list]),
      () => {
        mustRun('openssl', ['dgst', '-sha256', ...files.map(({ path }) => path)])
        mustRun(process.execPath, [measureScript, list, '--unhashed'])
      },
    )
    return { peer, ...times, kind: 'at most', hold: 0.9 }
  },
}
