import { readFileSync, writeSync } from 'node:fs'
import { spawnSync } from 'node:child_process'
import { join } from 'node:path'
import type { ImageJob } from '../../app/ports/card-images.ts'
import { keepsEntryOrder } from '../../main/adapters/drives/volume-below.ts'
import { readCardFolder } from '../../main/adapters/files/read-card-folder.ts'
import { beforeStep, fillFolder } from './fill-folder.ts'
import { CUT_POWER } from './linux-with-fat.ts'

/** Fills a mounted card with one of the jobs of a folder, or lists it; tells on descriptor 3, a line each. */
const [folder = '', act = '', name = '', step = '-1'] = process.argv.slice(2)
const card = '/mnt/card'
const tell = (what: unknown): void => void writeSync(3, `${JSON.stringify(what)}\n`)

if (act === 'list') {
  const { files, faults } = readCardFolder(
    card,
    () => {},
    () => {},
  )
  const keepsOrder = await keepsEntryOrder(card)
  tell({ files: files.map(({ path, sha256 }) => [path, sha256]), faults, keepsOrder })
} else {
  const jobs = JSON.parse(readFileSync(join(folder, 'jobs.json'), 'utf8')) as Record<string, ImageJob>
  const end =
    act === 'fill-until-cut'
      ? () => void spawnSync('/bin/sh', ['-c', CUT_POWER])
      : () => process.kill(process.pid, 'SIGKILL')
  const filled = fillFolder(
    card,
    jobs[name]!,
    { mayReplace: true, keepsOrder: true },
    beforeStep(Number(step), end),
  )
  tell(filled)
}
