import { execFileSync } from 'node:child_process'
import { dirname } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { ODD_FOLDERS, writeNastyTree } from '../../support/nasty-tree.ts'
import { openScanBench } from '../../support/scan-bench.ts'

/** Every thing in a tree with its kind, size and times; reading nothing. */
function stateOf(folder: string): string {
  return execFileSync('find', [folder, '-printf', '%p %y %m %s %T@ %C@\\n'], { maxBuffer: 2 ** 26 }).toString(
    'latin1',
  )
}

test.runIf(process.platform === 'linux')(
  'a library of the nastiest names, links and archives is scanned to its end, told of, and left as it is',
  async () => {
    const bench = await openScanBench()
    const folder = dirname(bench.library)
    writeNastyTree(folder)
    // One path in it is longer than what Node can remove.
    onTestFinished(() => void execFileSync('rm', ['-rf', bench.library]))
    const before = stateOf(bench.library)

    const report = await bench.scan()

    expect(stateOf(bench.library)).toBe(before)
    expect(bench.inspected.some((path) => path.includes('outside') || path.includes('pipe'))).toBe(false)
    const told = report.roots[0]?.problems.map(({ path, code, severity }) => {
      const shown = path.slice(bench.library.length + 1).replace(/d{20,}.*/s, 'd…')
      return `${severity} ${code} ${JSON.stringify(shown).slice(1, -1)}`
    })
    const asRoot = process.getuid?.() === 0
    expect(told?.toSorted()).toEqual([...EXPECTED, ...(asRoot ? [] : LOCKED_FILE)].sort())
    for (const { message } of report.roots[0]?.problems ?? []) expect(message).toMatch(/^[A-Z].*\.$/s)

    const editions = await bench.database.library.listEditions()
    const folders = editions.flatMap(({ places }) =>
      places.map(({ path }) => path.slice(bench.library.length + 1)),
    )
    for (const name of [...ODD_FOLDERS, 'plain', 'folder.zip', 'archives/good.zip']) {
      expect(folders).toContain(name)
    }
    const again = await bench.scan()
    expect(again.roots[0]?.problems.length).toBe(report.roots[0]?.problems.length)
    expect(again.roots[0]).toMatchObject({ added: 0, changed: 0, gone: 0, filesRead: 0 })
  },
)

const LOCKED_FILE = ['fault file/no-permission special/locked.wav']
const EXPECTED = [
  'note walk/link links/self',
  'note walk/link links/up',
  'note walk/link links/ping',
  'note walk/link links/pong',
  'note walk/link links/gone.wav',
  'note walk/link links/out.wav',
  'note walk/link links/out',
  'note walk/special special/pipe.wav',
  'fault walk/path-too-long d…',
  'fault walk/name-not-utf8 names/latin-%e9.wav',
  'fault scan/sound-too-large huge/hum.wav',
  'fault sound/empty kinds/empty.wav',
  'fault sound/no-samples kinds/short.wav',
  'fault sound/not-recognised kinds/text.wav',
  'note scan/sound-by-content kinds/none',
  'note scan/sound-by-content names/__proto__',
  'note scan/sound-by-content names/...',
  'note scan/sound-by-content names/hum.wav ',
  'fault archive/name-climbs archives/traversal.zip!/../escape-1.wav',
  'fault archive/name-climbs archives/traversal.zip!/font/../../escape-2.wav',
  'fault archive/name-climbs archives/traversal.zip!/..\\\\escape-3.wav',
  'fault archive/name-absolute archives/absolute.zip!//escape.wav',
  'fault archive/name-absolute archives/absolute.zip!/C:\\\\escape.wav',
  'fault archive/link archives/link.zip!/font/out',
  'fault archive/file-and-folder archives/link.zip!/font/out/escape.wav',
  'fault archive/contradicts archives/two-names.zip!/font/hun.wav',
  'fault archive/unpacks-too-far archives/bomb.zip!/font/hum.wav',
  'fault archive/unpacks-too-far archives/bomb-nested.zip!/font/in.zip!/font/hum.wav',
  'fault archive/entry-damaged archives/bomb-lies.zip!/font/hum.wav',
  'fault archive/too-many-entries archives/many.zip',
  'fault archive/name-twice archives/duplicates.zip!/font/hum.wav',
  'fault archive/name-twice archives/duplicates.zip!/font/hum.wav',
  'fault archive/name-twice archives/duplicates.zip!/font/HUM.wav',
  'fault archive/password-needed archives/locked.zip',
  'fault archive/damaged archives/cut.zip',
  'fault archive/empty-file archives/zero.zip',
  'fault archive/kind archives/pack.rar',
  'note archive/kind-by-name archives/pack.iso',
]
