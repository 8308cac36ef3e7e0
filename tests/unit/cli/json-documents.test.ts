import { cpSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { documents, type DocumentName } from '../../../app/contract/documents.ts'
import { demoWorkshop } from '../../support/demo-workshop.ts'
import { expectDocument } from '../../support/json-document.ts'
import { runCliHere } from '../../support/run-cli.ts'

const demo = demoWorkshop()
const held = new Set<DocumentName>(['demo'])

/** Runs a command with --json and holds its document; standard error is for people alone. */
async function document(name: DocumentName, ...args: string[]): Promise<unknown> {
  held.add(name)
  const run = await runCliHere([...args, '--json', '--workshop', demo.folder], { cwd: demo.base })
  return expectDocument(name, run.stdout)
}

/** A folder of a demo font under another name, one byte of a sound changed: another font. */
function copyOf(folder: string, name: string): string {
  const fonts = join(demo.folder, 'demo-fonts')
  const from = readdirSync(fonts, { recursive: true, encoding: 'utf8' }).find((path) =>
    path.startsWith(folder),
  )
  const to = join(demo.base, name)
  cpSync(join(fonts, from ?? ''), to, { recursive: true })
  const hum = readFileSync(join(to, 'hum.wav'))
  writeFileSync(join(to, 'hum.wav'), Buffer.concat([hum.subarray(0, -2), Buffer.of(5, 0)]))
  return to
}

describe('every JSON document keeps to its schema', () => {
  test('of the demo, of scan, check, size, make, verify and cards list', async () => {
    expectDocument('demo', JSON.stringify(demo.report))
    await document('scan', 'scan', join(demo.folder, 'demo-fonts'))
    await document('check', 'check', '--board', 'bench-44')
    await document('check', 'check', '--build', 'EX-102')
    await document('size', 'size', 'Harbour Bell', '--card', '512MiB')
    const made = await document('make', 'make', 'Harbour Bell', '--image', 'json.img')
    const { fingerprint } = made as ResponseOf<'make'>
    await document('verify', 'verify', 'json.img')
    await document('remake', 'remake', fingerprint, '--image', 'json-again.img')
    const folder = join(demo.base, 'json-card')
    mkdirSync(folder)
    await document('cards-target', 'cards', 'target', folder, '--board', 'bench-44')
    await document('make-into', 'make', 'Harbour Bell', '--into', folder)
    await document('remake-into', 'remake', fingerprint, '--into', folder)
    await document('cards-drives', 'cards', 'drives')
    await document('cards-list', 'cards', 'list')
    await document('cards-show', 'cards', 'show', fingerprint)
    await document('cards-diff', 'cards', 'diff', fingerprint, fingerprint)
  })

  test('of fonts, sounds, boards and roots', async () => {
    await document('fonts-list', 'fonts', 'list', '--board', 'bench-44')
    await document('fonts-list', 'fonts', 'list')
    await document('fonts-show', 'fonts', 'show', 'Ninth Anvil', '--board', 'bench-44')
    await document('fonts-duplicates', 'fonts', 'duplicates')
    await document('fonts-set', 'fonts', 'set', 'Quiet Foundry', '--font-version', '1.1')
    await document('sounds', 'sounds', 'Thornwick')
    await document('fonts-keep', 'fonts', 'keep', 'Thornwick')
    await document('fonts-originals', 'fonts', 'originals', 'Thornwick')
    await document('scan', 'scan', copyOf('Kolmarra/Thornwick', 'Spare Yard'))
    await document('fonts-release', 'fonts', 'release', 'Spare Yard')
    await document('roots-list', 'roots', 'list')
    await document('status', 'status')
    await document('status-set', 'status', 'set', '--who', 'Kim', '--speaker-low-limit', '300')
    await document('status-set', 'status', 'set', '--speaker-low-limit', '')
    await document('error', 'fonts', 'show', 'Nothing of this name')
  })

  test('of records', async () => {
    await document('creators-list', 'creators', 'list')
    await document('creators-add', 'creators', 'add', 'Orsolay')
    await document('creators-show', 'creators', 'show', 'Varnisk')
    await document('creators-set', 'creators', 'set', 'Orsolay', '--note', 'new')
    const { licence } = (await document(
      'licences-add',
      'licences',
      'add',
      'Quiet Foundry',
      '--kind',
      'gift',
      '--conversion',
      'no',
    )) as ResponseOf<'licences:add'>
    await document('licences-list', 'licences', 'list', '--font', 'Quiet Foundry')
    await document('licences-show', 'licences', 'show', licence.id)
    await document('licences-set', 'licences', 'set', licence.id, '--holder', 'My bench')
    await document('licences-remove', 'licences', 'remove', licence.id)
    await document('builds-list', 'builds', 'list')
    await document('builds-add', 'builds', 'add', 'EX-9', '--font', 'Harbour Bell')
    await document('builds-show', 'builds', 'show', 'EX-9')
    await document('builds-set', 'builds', 'set', 'EX-9', '--note', 'changed')
    const sounds = (act: 'add' | 'replace' | 'leave-out' | 'take-back' | 'list', ...args: string[]) =>
      document(`builds-sounds-${act}`, 'builds', 'sounds', act, 'EX-9', ...args)
    await sounds('add', 'Harbour Bell', 'Ember Loom', 'boot.wav', '--as', 'announce:3')
    await sounds('replace', 'Harbour Bell', 'hum.wav', 'Ember Loom', 'hum.wav')
    await sounds('leave-out', 'Harbour Bell', 'clash-01.wav')
    await sounds('list')
    await sounds('take-back', 'Harbour Bell', 'hum.wav')
    await document('builds-configs', 'builds', 'configs', 'EX-9')
  })

  test('of a card checked as it lies, and of preparing', async () => {
    await document('check-card', 'check', 'json.img', '--board', 'bench-44')
    await document('prepare', 'prepare', 'Thornwick', '--board', 'bench-44', '--dry-run')
    await document('prepare', 'prepare', 'Thornwick', '--board', 'bench-44')
  })

  test('of measure, which needs no workshop', async () => {
    const run = await runCliHere([
      'measure',
      join(demo.folder, 'demo-fonts/Varnisk/Harbour Bell v1.2/hum.wav'),
      '--json',
    ])
    expect(run.code).toBe(0)
    if ('measure' in documents) {
      held.add('measure' as DocumentName)
      expectDocument('measure' as DocumentName, run.stdout)
    }
  })

  test('and of what removes a root, at last', async () => {
    await document('roots-remove', 'roots', 'remove', join(demo.folder, 'demo-fonts'))
  })
})

test('no document of this file’s commands is left untried', () => {
  const others = /^(boards|roles|schemes|translate)/
  const untried = (Object.keys(documents) as DocumentName[]).filter(
    (name) => !held.has(name) && !others.test(name),
  )
  expect(untried).toEqual([])
})

test('the README names the folder of the schemas', () => {
  expect(readFileSync(new URL('../../../README.md', import.meta.url), 'utf8')).toContain('resources/schemas/')
})
