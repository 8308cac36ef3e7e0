import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { table } from '../../main/cli/table.ts'
import { openWorkshop } from '../../main/workshop.ts'
import { REAL_SOUNDS } from '../support/real-sounds.ts'

// Twenty real sounds prepared for each board, then what was prepared prepared again, as tables: recipe,
// both measurements, and the second run's recipe.
// usage: print-prepared-proof.ts

type Row = ResponseOf<'prepare'>['fonts'][number]['sounds'][number]

const control = { onProgress: () => {}, cancel: new AbortController().signal }
const folder = mkdtempSync(join(tmpdir(), 'cardwright-proof-'))

try {
  mkdirSync(join(folder, 'Real'))
  for (const [name, path] of Object.entries(REAL_SOUNDS)) copyFileSync(path, join(folder, 'Real', name))
  const { core, close } = await openWorkshop({ folder: join(folder, 'workshop') })
  await core.scan({ paths: [join(folder, 'Real')] }, control)
  const [original] = (await core['fonts:list']({}, control)).fonts
  for (const boardId of ['bench-44', 'bench-32', 'bench-48']) {
    const editionIds = [original?.id ?? '']
    const into = join(folder, boardId)
    const first = await core.prepare({ boardId, editionIds, into }, control)
    const second = await core.prepare({ boardId, editionIds }, control)
    // The written folder as a font of its own, which the workshop knows by its contents alone.
    await core.scan({ paths: [into] }, control)
    const { fonts } = await core['fonts:list']({}, control)
    const written = fonts.filter(({ places }) => places.some(({ path }) => path.startsWith(into)))
    const writtenIds = written.map(({ id }) => id)
    const again = await core.prepare({ boardId, editionIds: writtenIds, dryRun: true }, control)
    print(first, second, again)
  }
  await close()
} finally {
  rmSync(folder, { recursive: true, force: true })
}

function print(...[first, second, again]: readonly ResponseOf<'prepare'>[]): void {
  const [font] = first?.fonts ?? []
  const bySha = new Map(
    again?.fonts.flatMap(({ sounds }) => sounds.map((row) => [row.before.sha256, row] as const)),
  )
  const rows = (font?.sounds ?? []).map((row, index) => {
    const kept = second?.fonts[0]?.sounds[index]
    return [
      row.path,
      recipeOf(row),
      measured(row.before),
      measured(row.after ?? row.before),
      kept?.state ?? '',
      recipeOf(bySha.get((row.after ?? row.before).sha256)),
    ]
  })
  const heads = ['sound', 'recipe', 'before', 'after', 'run again', 'recipe of what was prepared']
  process.stdout.write(
    [
      `${first?.boardTitle}: ${font?.verdictBefore.word} before, ${font?.verdictAfter.word} after; one gain of ${font?.gainDb?.toFixed(2) ?? '0'} dB; hum ${font?.humBeforeLufs?.toFixed(2)} -> ${font?.humAfterLufs?.toFixed(2)} LUFS`,
      `by ${first?.tools}`,
      table(heads, rows),
      `run again: ${JSON.stringify(second?.counts)}; the written folder prepared: ${JSON.stringify(again?.counts)}`,
      '',
      '',
    ].join('\n'),
  )
}

function recipeOf(row: Row | undefined): string {
  if (row === undefined) return 'not found'
  const steps = row.steps.map(({ inWords }) => inWords).filter((words) => words !== '')
  return [steps.join(', ') || 'empty', ...row.told].join('; ')
}

function measured({ sampleRateHz, bitDepth, channels, levelLufs, truePeakDbtp }: Row['before']): string {
  const parts = [
    `${sampleRateHz} Hz`,
    `${bitDepth} bit`,
    `${channels} ch`,
    `${levelLufs?.toFixed(1) ?? '-'} LUFS`,
    `${truePeakDbtp?.toFixed(1) ?? '-'} dBTP`,
  ]
  return parts.join(' ')
}
