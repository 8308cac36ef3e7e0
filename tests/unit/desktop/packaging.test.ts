import { Ajv } from 'ajv'
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { parse } from 'yaml'

const root = join(import.meta.dirname, '../../..')
const text = (path: string) => readFileSync(join(root, path), 'utf8')
const config = parse(text('electron-builder.yml')) as Record<string, unknown>

/** The packager's own schema. It names formats and keywords of its own, which judge nothing here. */
function validator() {
  const schema = JSON.parse(text('node_modules/app-builder-lib/scheme.json')) as object
  return new Ajv({ strict: false, allErrors: true, logger: false }).compile(schema)
}

describe('the desktop packages', () => {
  test('their configuration holds to the schema of the packager', () => {
    const validate = validator()
    expect(validate(config) ? [] : validate.errors).toEqual([])
  })

  test('the schema refuses a key that the packager does not know', () => {
    expect(validator()({ ...config, prodductName: 'Cardwright' })).toBe(false)
  })

  test('their icon is there, square and large enough for every system', () => {
    const path = join(root, String(config['icon']))
    expect(existsSync(path)).toBe(true)
    const png = readFileSync(path)
    expect(png.readUInt32BE(16)).toBe(png.readUInt32BE(20))
    expect(png.readUInt32BE(16)).toBeGreaterThanOrEqual(1024)
  })

  test('what starts them is what the bundler writes', () => {
    const { main } = JSON.parse(text('package.json')) as { main: string }
    expect(main).toBe('out/main/desktop.js')
    expect(config['files']).toContain('out/main/**')
  })
})
