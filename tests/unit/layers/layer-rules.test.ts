import { spawnSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, realpathSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'

const root = join(import.meta.dirname, '../../..')

/** For each rule: a file that breaks it, and the line that does. */
const BREAKS: Record<string, readonly [file: string, line: string]> = {
  'model-is-alone': ['app/model/a.ts', "import '../errors/a.ts'"],
  'errors-are-alone': ['app/errors/b.ts', "import '../model/b.ts'"],
  'ports-are-interfaces': ['app/ports/a.ts', "import '../audio/target.ts'"],
  'contract-is-shapes': ['app/contract/a.ts', "import '../usecases/target.ts'"],
  'audio-is-pure': ['app/audio/a.ts', "import '../cards/target.ts'"],
  'boards-are-pure': ['app/boards/a.ts', "import '../audio/target.ts'"],
  'cards-are-pure': ['app/cards/a.ts', "import '../boards/target.ts'"],
  'records-are-pure': ['app/records/a.ts', "import '../cards/target.ts'"],
  'rescue-sees-cards-and-audio': ['app/rescue/a.ts', "import '../boards/target.ts'"],
  'use-cases-look-down': ['app/usecases/a.ts', "import '../../main/adapters/files/target.ts'"],
  'renderer-sees-the-contract': ['renderer/hooks/a.ts', "import '../../app/cards/target.ts'"],
  'adapters-know-no-door': ['main/adapters/files/a.ts', "import '../../cli/target.ts'"],
  'main-leaves-the-window-alone': ['main/cli/a.ts', "import '../../renderer/client/target.ts'"],
  'no-cycles': ['app/model/circle.ts', "import './round.ts'"],
  'app-takes-no-packages': ['app/records/b.ts', "import 'react'"],
  'app-knows-no-node': ['app/records/c.ts', "import 'node:fs'"],
  'renderer-knows-no-node': ['renderer/hooks/b.ts', "import 'node:fs'"],
  'only-the-client-talks-to-a-door': ['renderer/views/a.ts', "import '../client/target.ts'"],
  'sql-stays-in-db': ['main/cli/b.ts', "import 'kysely'"],
  'media-libraries-stay-in-media': ['main/cli/c.ts', "import 'wavefile'"],
  'electron-stays-in-desktop': ['main/cli/d.ts', "import 'electron'"],
  'react-stays-in-renderer': ['main/cli/e.ts', "import 'react'"],
  'server-stays-in-loopback': ['main/cli/f.ts', "import 'fastify'"],
  'licence-library-stays-in-documents': ['main/cli/g.ts', "import '@cyclonedx/cyclonedx-library'"],
  'archives-stay-in-files': ['main/cli/h.ts', "import '@zip.js/zip.js'"],
  'drive-lists-stay-in-drives': ['main/cli/k.ts', "import 'systeminformation'"],
  'tables-and-flags-stay-in-cli': ['main/loopback/a.ts', "import 'commander'"],
  'tests-are-leaves': ['main/cli/i.ts', "import '../../tests/support/target.ts'"],
  'nothing-unresolvable': ['main/cli/j.ts', "import './is-not-there.ts'"],
}

/** Files that the broken ones point at, and one that breaks nothing. */
const TARGETS: Record<string, string> = {
  'app/errors/a.ts': '',
  'app/model/b.ts': '',
  'app/model/round.ts': "import './circle.ts'",
  'app/audio/target.ts': '',
  'app/cards/target.ts': '',
  'app/boards/target.ts': '',
  'app/usecases/target.ts': "import '../audio/target.ts'\nimport '../model/b.ts'",
  'main/adapters/files/target.ts': '',
  'main/cli/target.ts': '',
  'renderer/client/target.ts': '',
  'tests/support/target.ts': '',
}

let folder: string
let violations: { rule: { name: string }; from: string }[]

beforeAll(() => {
  folder = mkdtempSync(join(realpathSync(tmpdir()), 'cardwright-layers-'))
  const write = (file: string, text: string) => {
    mkdirSync(dirname(join(folder, file)), { recursive: true })
    writeFileSync(join(folder, file), `${text}\nexport {}\n`)
  }
  for (const [file, text] of Object.entries(TARGETS)) write(file, text)
  for (const [file, line] of Object.values(BREAKS)) write(file, line)
  symlinkSync(join(root, 'node_modules'), join(folder, 'node_modules'))
  const cruiser = join(root, 'node_modules/dependency-cruiser/bin/dependency-cruiser.mjs')
  const config = join(root, '.dependency-cruiser.config.mjs')
  writeFileSync(join(folder, '.tsconfig.strict.json'), '{}')
  const args = [cruiser, '--config', config, '--output-type', 'json', 'app', 'main', 'renderer', 'tests']
  const result = spawnSync(process.execPath, args, { cwd: folder, encoding: 'utf8', maxBuffer: 1 << 28 })
  violations = JSON.parse(result.stdout).summary.violations
})

afterAll(() => rmSync(folder, { recursive: true, force: true }))

test.each(Object.entries(BREAKS))('the rule %s catches an import that breaks it', (rule, [file]) => {
  expect(violations.some((violation) => violation.rule.name === rule && violation.from === file)).toBe(true)
})

test('every rule is broken once here, so that none is there only in name', async () => {
  const config = (await import(join(root, '.dependency-cruiser.config.mjs'))) as {
    default: { forbidden: { name: string }[] }
  }
  expect(config.default.forbidden.map((rule) => rule.name).toSorted()).toEqual(Object.keys(BREAKS).toSorted())
})

test('imports that lean the right way are left in peace', () => {
  expect(violations.filter((violation) => violation.from === 'app/usecases/target.ts')).toEqual([])
})
