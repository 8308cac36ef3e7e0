import { existsSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { cardImages } from '../../main/adapters/files/card-images.ts'
import { cardReader } from '../../main/adapters/files/card-reader.ts'
import type { RunControl } from '../../app/ports/progress.ts'
import { benchFiles, jobOf, type BenchFiles } from './card-bench-data.ts'
import {
  has,
  mustRun,
  notRun,
  pairedMedians,
  type Bench,
  type BenchContext,
  type BenchResult,
} from './bench-kit.ts'

const control: RunControl = { onProgress: () => {}, cancel: new AbortController().signal }
/** A gigabyte in as many files as a library of that size has. */
const LARGE = { count: 408, sizeBytes: 2_450_000 }
const SMALL = { count: 10_000, sizeBytes: 24_000 }

const MTOOLS = 'mkfs.vfat -C -F 32 -s 8 IMAGE BLOCKS && mcopy -s -Q -i IMAGE FOLDERS :: && sync IMAGE'

/** Plan, read, hash, lay out, write and fsync an image. */
export const imageAgainstMtools: Bench = {
  id: 'P6a',
  title: 'a card image of 1 GB, on the disk, against mkfs.vfat and mcopy',
  run: (context) => againstMtools(context, LARGE, 1.1),
}

export const imageAgainstDd: Bench = {
  id: 'P6b',
  title: 'a card image of 1 GB, on the disk, against dd of the same bytes',
  async run(context) {
    const files = benchFiles(context.dataFolder, Math.round(LARGE.count * context.scale), LARGE.sizeBytes)
    const copy = join(context.dataFolder, 'dd-copy.img')
    const dd = ['if=' + files.inOne, 'of=' + copy, 'bs=1M', 'conv=fdatasync', 'status=none']
    const times = await pairedMedians(
      context.rounds,
      () => makeImage(context, files),
      () => {
        rmSync(copy, { force: true })
        mustRun('dd', dd)
      },
    )
    rmSync(copy, { force: true })
    rmSync(imagePathOf(context), { force: true })
    return { peer: 'dd bs=1M conv=fdatasync', ...times, kind: 'at most', hold: 1.6 }
  },
}

export const manyFilesAgainstMtools: Bench = {
  id: 'P7',
  title: 'a card image of 10,000 small files, on the disk, against mkfs.vfat and mcopy',
  run: (context) => againstMtools(context, SMALL, 1.1),
}

/** Read back through js-fatfs, every file hashed; the image is at least 90 % full. */
export const verifyAgainstOpenssl: Bench = {
  id: 'P8',
  title: 'a card image of 1 GB read back and hashed, against openssl over the whole image',
  async run(context) {
    const peer = 'openssl dgst -sha256 IMAGE'
    if (!has('openssl')) return notRun(peer, 'openssl is missing')
    const files = benchFiles(context.dataFolder, Math.round(LARGE.count * context.scale), LARGE.sizeBytes)
    await makeImage(context, files)
    const image = imagePathOf(context)
    const times = await pairedMedians(
      context.rounds,
      async () => {
        const { faults, files: read } = await cardReader.read(image, [], control)
        if (faults.length > 0 || read.length !== files.files.length)
          throw new Error(`read back: ${faults[0]}`)
      },
      () => mustRun('openssl', ['dgst', '-sha256', image]),
    )
    const { geometry, usedClusters } = jobOf(files).plan
    rmSync(image, { force: true })
    const remark = `${Math.round((100 * usedClusters) / geometry.clusterCount)} % full`
    return { peer, ...times, kind: 'at most', hold: 1.6, remark }
  },
}

async function againstMtools(
  context: BenchContext,
  shape: { count: number; sizeBytes: number },
  hold: number,
): Promise<BenchResult> {
  if (!has('mcopy') || mkfs() === null) return notRun(MTOOLS, 'mtools or dosfstools is missing')
  const files = benchFiles(context.dataFolder, Math.round(shape.count * context.scale), shape.sizeBytes)
  const peerImage = join(context.dataFolder, 'mtools.img')
  const times = await pairedMedians(
    context.rounds,
    () => makeImage(context, files),
    () => copyByMtools(files, peerImage),
  )
  const copied = mustRun('mdir', ['-i', peerImage, '-/', '-b', '::'])
    .split('\n')
    .filter((line) => line.endsWith('.wav'))
  if (copied.length !== files.files.length) throw new Error(`the peer copied ${copied.length} files`)
  rmSync(peerImage)
  rmSync(imagePathOf(context), { force: true })
  return { peer: MTOOLS, ...times, kind: 'at most', hold }
}

async function makeImage(context: BenchContext, files: BenchFiles): Promise<void> {
  const path = imagePathOf(context)
  rmSync(path, { force: true })
  const written = await cardImages.write(jobOf(files), path, control)
  await written.publish(true)
}

function copyByMtools(files: BenchFiles, image: string): void {
  rmSync(image, { force: true })
  const blocks = Math.ceil(jobOf(files).plan.geometry.imageBytes / 1024)
  mustRun(mkfs() ?? '', ['-C', '-F', '32', '-s', '8', image, String(blocks)])
  const folders = files.folders.map((folder) => join(files.folder, folder))
  mustRun('mcopy', ['-s', '-Q', '-i', image, ...folders, '::'])
  mustRun('sync', [image])
}

/** Debian keeps it where only root looks. */
function mkfs(): string | null {
  return (
    ['/usr/sbin/mkfs.vfat', '/sbin/mkfs.vfat', '/usr/bin/mkfs.vfat'].find((path) => existsSync(path)) ?? null
  )
}

function imagePathOf(context: BenchContext): string {
  return join(context.dataFolder, 'ours.img')
}
