import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, expect, test } from 'vitest'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { demoWorkshop } from '../../support/demo-workshop.ts'
import { expectDocument } from '../../support/json-document.ts'
import { runCli } from '../../support/run-cli.ts'

// One content, made of fonts alone at first, then for two builds that come to the same.

const demo = demoWorkshop()
const cli = (...args: string[]) => runCli([...args, '--workshop', demo.folder], { cwd: demo.base })
const hashOf = (name: string) =>
  createHash('sha256')
    .update(readFileSync(join(demo.base, name)))
    .digest('hex')

async function made(...args: string[]): Promise<string> {
  const run = await cli('make', ...args, '--json')
  return (expectDocument('make', run.stdout) as ResponseOf<'make'>).fingerprint
}

async function shown(fingerprint: string): Promise<ResponseOf<'contents:show'>> {
  return expectDocument(
    'cards-show',
    (await cli('cards', 'show', fingerprint, '--json')).stdout,
  ) as ResponseOf<'contents:show'>
}

beforeAll(async () => {
  for (const code of ['EX-8', 'EX-9']) {
    await cli('builds', 'add', code, '--board', 'bench-44', '--font', 'Harbour Bell')
  }
})

test('a card that was made of fonts alone is recorded for each build that it is made for later', async () => {
  const fingerprint = await made('Harbour Bell', '--board', 'bench-44', '--image', 'alone.img')
  expect(await shown(fingerprint)).toMatchObject({ build: null, builds: [] })
  const before = await shown(fingerprint)

  expect(await made('--build', 'EX-8', '--image', 'first.img')).toBe(fingerprint)
  expect(await shown(fingerprint)).toEqual({ ...before, build: 'EX-8', builds: ['EX-8'] })
  expect(await made('--build', 'EX-9', '--image', 'second.img')).toBe(fingerprint)
  expect(await made('--build', 'EX-8', '--image', 'third.img')).toBe(fingerprint)
  expect(await made('Harbour Bell', '--board', 'bench-44', '--image', 'fourth.img')).toBe(fingerprint)
  expect(await shown(fingerprint)).toEqual({ ...before, build: 'EX-8', builds: ['EX-8', 'EX-9'] })

  const list = expectDocument('cards-list', (await cli('cards', 'list', '--json')).stdout)
  const { contents } = list as ResponseOf<'contents:list'>
  expect(contents.find((each) => each.fingerprint === fingerprint)).toMatchObject({
    build: 'EX-8',
    builds: ['EX-8', 'EX-9'],
  })
  expect((await cli('cards', 'list')).stdout).toContain('EX-8, EX-9')
  const text = (await cli('cards', 'show', 'EX-9')).stdout
  expect(text).toContain('Build        EX-8\nBuild        EX-9\n')
  expect(text).toContain(fingerprint)

  for (const code of ['EX-8', 'EX-9']) {
    expect((await cli('remake', code, '--image', `${code}.img`)).code).toBe(0)
  }
  const images = ['first', 'second', 'third', 'fourth', 'EX-8', 'EX-9'].map((name) => hashOf(`${name}.img`))
  expect(new Set(images)).toEqual(new Set([hashOf('alone.img')]))
})
