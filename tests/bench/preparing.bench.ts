import { existsSync, mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { openWorkerInspector } from '../../main/workers/worker-inspector.ts'
import { has, mustRun, notRun, pairedMedians, type Bench } from './bench-kit.ts'
import { soundLibrary, type LibraryFile } from './sound-library.ts'

const prepareScript = fileURLToPath(new URL('./prepare-library.ts', import.meta.url))
const nobodyCancels = { aborted: false, addEventListener: () => {}, removeEventListener: () => {} }

/** The whole of preparing for `bench-32` against what a shell loop does of it. */
export const preparingAgainstShellLoop: Bench = {
  id: 'P14',
  title: 'Prepare the whole library for bench-32, against a shell loop of ffmpeg',
  run: async (context) => {
    const each = 'ffmpeg -nostdin -v error -y -i FILE -ac 1 -ar 32000 -c:a pcm_s16le OUT'
    const peer = `xargs -P 2: ${each}, one process a file, two at a time`
    if (!has('ffmpeg')) return notRun(peer, 'ffmpeg is not installed')
    const files = soundLibrary(context.dataFolder, context.scale)
    const list = join(context.dataFolder, `prepare-${context.scale}.json`)
    if (!existsSync(list)) writeFileSync(list, JSON.stringify(await inspected(files)))
    const work = join(context.dataFolder, 'prepare-work')
    const out = join(context.dataFolder, 'prepare-peer')
    rmSync(out, { recursive: true, force: true })
    mkdirSync(out, { recursive: true })
    let said = ''
    const times = await pairedMedians(
      context.rounds,
      () => {
        said = mustRun(process.execPath, [prepareScript, list, work])
      },
      () => shellLoop(files, out),
    )
    const written = readdirSync(out).length
    rmSync(work, { recursive: true, force: true })
    rmSync(out, { recursive: true, force: true })
    if (written !== files.length) throw new Error(`the peer wrote ${written} of ${files.length} files`)
    return { peer, ...times, kind: 'at most', hold: 0.5, remark: `ours: ${said.trim()}` }
  },
}

async function inspected(files: readonly LibraryFile[]): Promise<unknown[]> {
  const inspector = openWorkerInspector()
  const found: unknown[] = []
  await inspector.inspectFiles(
    files,
    (index, { inspection }) => {
      found[index] = { path: files[index]?.path, inspection }
    },
    nobodyCancels,
  )
  await inspector.close()
  return found
}

function shellLoop(files: readonly LibraryFile[], out: string): void {
  const script = 'ffmpeg -nostdin -v error -y -i "$1" -ac 1 -ar 32000 -c:a pcm_s16le "$0/$(basename "$1")"'
  const input = files.map(({ path }) => `${path}\n`).join('')
  mustRun('xargs', ['-P', '2', '-n', '1', 'sh', '-c', script, out], input)
}
