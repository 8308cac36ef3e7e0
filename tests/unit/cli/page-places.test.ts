import { existsSync, mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { demoWorkshop } from '../../support/demo-workshop.ts'
import { runCliHere, toldLines } from '../../support/run-cli.ts'

const demo = demoWorkshop()
const cli = (...args: string[]) => runCliHere([...args, '--workshop', demo.folder], { cwd: demo.base })

test.each([
  { of: 'of a check', args: ['check', 'Thornwick', '--board', 'bench-44'] },
  { of: 'of a card as it lies there', args: ['check', 'card', '--board', 'bench-44'] },
  { of: 'of preparing', args: ['prepare', 'Thornwick', '--board', 'bench-44'] },
  { of: 'of a dry run', args: ['prepare', 'Thornwick', '--board', 'bench-44', '--dry-run'] },
])(
  'a page $of is refused where its folder is missing, in one sentence, and none is made',
  async ({ args }) => {
    mkdirSync(join(demo.base, 'card'), { recursive: true })
    const run = await cli(...args, '--report', join('missing', 'dir', 'page.html'))
    expect(run.code).toBe(2)
    expect(toldLines(run)).toEqual([
      expect.stringContaining(
        'missing/dir/page.html: The folder for the page does not exist. Make the folder',
      ),
    ])
    expect(existsSync(join(demo.base, 'missing'))).toBe(false)
    const sounds = await cli('prepare', 'Thornwick', '--board', 'bench-44', '--dry-run', '--json')
    // Refused before the work, not after it.
    const report = JSON.parse(sounds.stdout) as ResponseOf<'prepare'>
    const states = report.fonts.flatMap((font) => font.sounds.map(({ state }) => state))
    expect(states).not.toContain('kept')
  },
)
