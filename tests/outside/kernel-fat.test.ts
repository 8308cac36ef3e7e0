import { spawnSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect } from 'vitest'
import type { FilledTarget } from '../../app/model/target.ts'
import type { ImageJob } from '../../app/ports/card-images.ts'
import { jobFromFiles } from '../support/card-job.ts'
import { cardOnDisk, madeUpBytes } from '../support/card-on-disk.ts'
import { LINUX_WITH_FAT, runWithCard, whyNoProgramStarts } from '../support/linux-with-fat.ts'
import { boardOf } from '../support/random-cards.ts'
import { notRunHere, testAgainst } from '../support/reference-tools.ts'
import { temporaryFolder } from '../support/temporary-folder.ts'

// What the operating system itself does with the entries of a card's directories: Linux's own driver.

const sounds = (paths: readonly string[]) =>
  paths.map((path) => ({ path, bytes: madeUpBytes(20_000 + 700 * path.length, path.length) }))

const CONTENTS = {
  first: [
    '01-Ember Loom/hum.wav',
    '01-Ember Loom/ignite-01.wav',
    '01-Ember Loom/a companion with a long name.txt',
    '02-BELL/HUM.WAV',
    '02-BELL/BOOT.WAV',
    '03-A Font of a rather long name/takes/one.wav',
    '03-A Font of a rather long name/hum.wav',
    'config.ini',
    'CREDITS.TXT',
  ],
  second: [
    'X/HUM.WAV',
    '02-BELL/HUM.WAV',
    '02-BELL/NEW.WAV',
    '02-BELL/BOOT.WAV',
    '01-Ember Loom/hum.wav',
    'config.ini',
    'CREDITS.TXT',
  ],
}

interface Bench {
  readonly image: string
  readonly jobs: Readonly<Record<keyof typeof CONTENTS, ImageJob>>
  run(...commands: readonly string[]): readonly unknown[]
}

/** An image of ours, its root full of other names, and contents to write on it. */
function bench(): Bench {
  const folder = temporaryFolder()
  const former = sounds(['OLD/HUM.WAV', 'Another long name/x.wav', 'LAST/HUM.WAV'])
  const { imagePath } = cardOnDisk(
    join(folder, 'card'),
    former,
    boardOf({ fileSystems: ['fat16'], clusterBytes: 2048 }),
  )
  const jobs = {
    first: jobFromFiles(folder, sounds(CONTENTS.first)),
    second: jobFromFiles(folder, sounds(CONTENTS.second)),
  }
  writeFileSync(join(folder, 'jobs.json'), JSON.stringify(jobs))
  return {
    image: imagePath,
    jobs,
    run(...commands) {
      const child = `${process.execPath} ${join(import.meta.dirname, '../support/kernel-fat-child.ts')} ${folder}`
      const lines = runWithCard(
        folder,
        imagePath,
        commands.map((command) => command.replace('card ', `${child} `)),
      )
      return lines
        .trim()
        .split('\n')
        .map((line) => JSON.parse(line) as unknown)
    },
  }
}

const listed = ({ plan }: ImageJob) => ({
  files: plan.files.map(({ path, sha256 }) => [path, sha256]),
  faults: [],
  keepsOrder: true,
})

const why = whyNoProgramStarts()
const test = why === undefined ? testAgainst(LINUX_WITH_FAT, 'fsck.fat') : notRunHere(why)

test(
  'Linux’s own driver leaves the entries in play order, on a used card and after being killed',
  { timeout: 300_000 },
  () => {
    const { image, jobs, run } = bench()
    const kills = [4, 13, 22, 31].flatMap((step) => [
      `card fill first ${step}`,
      'card fill second',
      'card list',
    ])
    const [first, afterFirst, second, afterSecond, ...others] = run(
      'card fill first',
      'put_in_again; card list',
      'card fill second',
      'put_in_again; card list',
      ...kills,
    )
    expect(first).toMatchObject({ filesWritten: 9 })
    expect(afterFirst).toEqual(listed(jobs.first))
    expect((second as FilledTarget).filesLeft).toBeGreaterThan(0)
    expect(afterSecond).toEqual(listed(jobs.second))
    const lists = others.filter((told) => Object.hasOwn(told as object, 'files'))
    expect(lists).toHaveLength(4)
    for (const list of lists) expect(list).toEqual(listed(jobs.second))
    expect(told('fsck.fat', '-n', volumeOf(image))).not.toMatch(/error|differ|bad|lost/i)
  },
)

test('a power cut while it is written is mended by the next run', { timeout: 300_000 }, () => {
  for (const step of [8, 20, 30]) {
    const { jobs, run } = bench()
    run('card fill first', `card fill-until-cut second ${step}`)
    expect(run('card fill second', 'put_in_again; card list').at(-1)).toEqual(listed(jobs.second))
  }
})

function told(command: string, ...args: readonly string[]): string {
  return spawnSync(command, args, { encoding: 'utf8' }).stdout
}

/** The volume alone, cut out of a partitioned image. */
function volumeOf(image: string): string {
  const volume = `${image}.volume`
  spawnSync('dd', [`if=${image}`, `of=${volume}`, 'bs=4M', 'skip=1', 'conv=sparse'])
  return volume
}
