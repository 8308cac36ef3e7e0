import { execFileSync } from 'node:child_process'
import { join } from 'node:path'
import { expect } from 'vitest'
import { plainWave } from '../support/plain-wave.ts'
import { testAgainst } from '../support/reference-tools.ts'
import { openScanBench } from '../support/scan-bench.ts'
import { writeFiles } from '../support/temporary-folder.ts'

// Archives as other programs pack them: what is read from them must be what went in.

const FONT = {
  'Ember/hum.wav': plainWave(1),
  'Ember/clash-01.wav': plainWave(2),
  'Ember/about.txt': 'read me',
}

async function packed(pack: (folder: string) => void, archive: string, password?: string) {
  const bench = await openScanBench()
  writeFiles(bench.library, FONT)
  pack(bench.library)
  const path = join(bench.library, archive)
  const report = await bench.scan([path], password === undefined ? {} : { passwords: { [path]: password } })
  return {
    bench,
    problems: report.roots[0]?.problems.map(({ code }) => code),
    sounds: report.roots[0]?.sounds,
    path,
  }
}

const run =
  (command: string, ...args: string[]) =>
  (folder: string) =>
    void execFileSync(command, args, { cwd: folder, stdio: 'ignore' })

testAgainst('7z')('an archive of 7z with AES is opened by its password', async () => {
  const pack = run('7z', 'a', '-tzip', '-mem=AES256', '-pkit', 'font.zip', 'Ember')
  expect(await packed(pack, 'font.zip')).toMatchObject({ sounds: 0, problems: ['archive/password-needed'] })
  expect(await packed(pack, 'font.zip', 'kit')).toMatchObject({ sounds: 2, problems: [] })
  expect(await packed(pack, 'font.zip', 'tool')).toMatchObject({
    sounds: 0,
    problems: ['archive/password-wrong'],
  })
})

testAgainst('7z')('an archive packed the 7z way is told by its kind', async () => {
  await expect(packed(run('7z', 'a', 'font.7z', 'Ember'), 'font.7z')).rejects.toMatchObject({
    code: 'scan/archive-kind',
  })
})

testAgainst('zip')(
  'an archive of Info-ZIP, streamed so that sizes follow the bytes, gives the same sounds as the folder',
  async () => {
    const { bench, problems, path } = await packed(
      run('sh', '-c', 'zip -r - Ember | cat > font.zip'),
      'font.zip',
    )
    expect(problems).toEqual([])
    const again = await bench.scan([join(bench.library, 'Ember')])
    expect(again.roots).toMatchObject([{ relinked: 1, added: 0 }])
    const [edition] = await bench.database.library.listEditions()
    expect(edition).toMatchObject({ soundCount: 2, companionCount: 1 })
    expect(edition?.places.map((place) => place.path).sort()).toEqual([join(bench.library, 'Ember'), path])
  },
)
