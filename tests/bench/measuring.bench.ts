import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import {
  has,
  mustRun,
  notRun,
  pairedMedians,
  type Bench,
  type BenchContext,
  type BenchResult,
} from './bench-kit.ts'
import { compiledPeer, PEER_MISSING } from './c-peer.ts'
import { smallSounds, soundLibrary, type LibraryFile } from './sound-library.ts'

const measureScript = fileURLToPath(new URL('./measure-files.ts', import.meta.url))

/** Measures a list of files in a new process; `list` names the list's file. */
function measuring(context: BenchContext, name: string, files: readonly LibraryFile[]): () => string {
  const list = join(context.dataFolder, `${name}.list`)
  writeFileSync(list, files.map(({ path, sizeBytes }) => `${sizeBytes}\t${path}\n`).join(''))
  return () => mustRun(process.execPath, [measureScript, list])
}

function listOf(files: readonly LibraryFile[]): string {
  return files.map(({ path }) => `${path}\n`).join('')
}

const FFMPEG_ONE = 'ffmpeg -nostdin -hide_banner -nostats -i {} -af ebur128=peak=true -f null -'

async function againstFfmpeg(
  context: BenchContext,
  name: string,
  files: readonly LibraryFile[],
  hold: number,
): Promise<BenchResult> {
  const peer = `xargs -P 2 -I{} ${FFMPEG_ONE}`
  if (!has('ffmpeg')) return notRun(peer, 'ffmpeg is not installed')
  const list = listOf(files)
  const args = ['-P', '2', '-I{}', ...FFMPEG_ONE.split(' ')]
  const times = await pairedMedians(Math.min(context.rounds, 3), measuring(context, name, files), () =>
    mustRun('xargs', args, list),
  )
  return {
    peer,
    ...times,
    kind: 'at least',
    hold,
    remark: 'most of the peer is its start-up, a process a file',
  }
}

/** The library through ffmpeg's meter; mostly its start-up. */
export const wholeLibraryAgainstFfmpeg: Bench = {
  id: 'P1a',
  title: 'measure the whole library, against ffmpeg',
  run: (context) => againstFfmpeg(context, 'library', soundLibrary(context.dataFolder, context.scale), 40),
}

export const longTracksAgainstFfmpeg: Bench = {
  id: 'P1b',
  title: 'measure the 36 long tracks, against ffmpeg',
  run: async (context) => {
    const files = soundLibrary(context.dataFolder, context.scale).filter(({ isLong }) => isLong)
    const { remark: _, ...result } = await againstFfmpeg(context, 'tracks', files, 8)
    return result
  },
}

async function againstC(context: BenchContext, name: string, files: readonly LibraryFile[]) {
  const binary = compiledPeer(context.dataFolder)
  if (binary === undefined) return undefined
  const list = listOf(files)
  return pairedMedians(context.rounds, measuring(context, name, files), () => mustRun(binary, [], list))
}

const C_PEER = 'loudness-peer (C, libebur128: I, LRA, true peak; two threads)'

export const wholeLibraryAgainstC: Bench = {
  id: 'P2',
  title: 'measure the whole library, against C',
  run: async (context) => {
    const times = await againstC(context, 'library', soundLibrary(context.dataFolder, context.scale))
    return times === undefined
      ? notRun(C_PEER, PEER_MISSING)
      : { peer: C_PEER, ...times, kind: 'at least', hold: 5 }
  },
}

export const smallBatchAgainstC: Bench = {
  id: 'P2b',
  title: 'measure 400 small files, start-up included, against C',
  run: async (context) => {
    const times = await againstC(context, 'batch', smallSounds(context.dataFolder, 400))
    return times === undefined
      ? notRun(C_PEER, PEER_MISSING)
      : { peer: C_PEER, ...times, kind: 'at most', hold: 3 }
  },
}
