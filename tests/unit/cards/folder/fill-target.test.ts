import * as fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { fillTarget, type FillControl } from '../../../../app/cards/folder/fill-target.ts'
import { AppError, Cancelled } from '../../../../app/errors/app-error.ts'
import type { CardFile } from '../../../../app/model/plan.ts'
import type { FillJob } from '../../../../app/ports/card-targets.ts'
import { isLitterFolder, kindOfFile } from '../../../../app/usecases/scan/file-kinds.ts'
import { FatFolder, Killed, type FatFolderOptions } from '../../../support/fat-folder.ts'

const control: FillControl = {
  isLitter: (name, isFolder) => (isFolder ? isLitterFolder(name) : kindOfFile(name) === 'litter'),
  cancel: () => {},
  onProgress: () => {},
}

const file = (path: string, sizeBytes: number, seed = 0): CardFile => ({
  path,
  sizeBytes,
  sha256: `${path}#${sizeBytes}#${seed}`,
  origin: { kind: 'config' },
})

const job = (planned: readonly CardFile[], change: Partial<FillJob> = {}): FillJob => ({
  planned,
  known: [],
  mayReplace: false,
  keepsOrder: true,
  ...change,
})

/** A folder that holds files as somebody put them there, in this order. */
function folderWith(paths: readonly CardFile[], options: FatFolderOptions = {}): FatFolder {
  const folder = new FatFolder(options)
  const made = new Set<string>()
  for (const each of paths) {
    const steps = each.path.split('/')
    for (let depth = 1; depth < steps.length; depth++) {
      const path = steps.slice(0, depth).join('/')
      if (!made.has(path)) folder.makeFolder(path)
      made.add(path)
    }
    folder.writeFile(each, each.path, () => {})
  }
  return folder
}

const expected = (planned: readonly CardFile[]) => planned.map(({ path, sha256 }) => [path, sha256])

const ember = [
  file('01-Ember Loom/hum.wav', 900),
  file('01-Ember Loom/ignite-01.wav', 300),
  file('01-Ember Loom/A long name of a companion.txt', 20),
]
const bell = [file('02-BELL/HUM.WAV', 800), file('02-BELL/BOOT.WAV', 100)]
const documents = [file('config.ini', 40), file('CREDITS.TXT', 60), file('LICENCES.CDX.JSON', 500)]
const content = [...ember, ...bell, ...documents]

describe('an empty target', () => {
  test('comes to hold the plan in its order, and nothing else', () => {
    const folder = new FatFolder()
    const filled = fillTarget(job(content), folder, control)
    expect(folder.files()).toEqual(expected(content))
    expect(filled).toMatchObject({
      filesWritten: content.length,
      filesLeft: 0,
      removed: [],
      wasReseated: false,
    })
  })

  test('is left alone by a second run', () => {
    const folder = new FatFolder()
    fillTarget(job(content), folder, control)
    const before = folder.files()
    const filled = fillTarget(job(content), folder, control)
    expect(folder.files()).toEqual(before)
    expect(filled).toMatchObject({ filesWritten: 0, bytesWritten: 0, filesLeft: content.length, removed: [] })
  })

  test('tells progress up to all of its bytes, written and read back', () => {
    const last = new Map<string, { done: number; total: number | null }>()
    fillTarget(job(content), new FatFolder(), {
      ...control,
      onProgress: ({ phase, done, total }) => last.set(phase, { done, total }),
    })
    const total = content.reduce((sum, { sizeBytes }) => sum + sizeBytes, 0)
    expect([...last]).toEqual([
      ['writing to the target', { done: total, total }],
      ['reading back', { done: total, total }],
    ])
  })
})

describe('files that are right already', () => {
  test('are left, and what is missing joins them in play order', () => {
    const folder = folderWith([ember[2]!, ember[0]!, ...bell, ...documents])
    const filled = fillTarget(job(content), folder, control)
    expect(folder.files()).toEqual(expected(content))
    expect(filled).toMatchObject({ filesWritten: 1, filesLeft: content.length - 1, bytesWritten: 300 })
  })

  test('are only moved where a folder’s order was wrong', () => {
    const folder = folderWith([...ember.toReversed(), ...bell, ...documents])
    expect(fillTarget(job(content), folder, control)).toMatchObject({ filesWritten: 0 })
    expect(folder.files()).toEqual(expected(content))
  })

  test('stay where they are, whatever their order, on a file system that keeps none', () => {
    const folder = folderWith([...documents, ...bell.toReversed(), ...ember])
    const before = folder.files()
    fillTarget(job(content, { keepsOrder: false }), folder, control)
    expect(folder.files()).toEqual(before)
  })

  test('are not right under a name of another case', () => {
    const folder = folderWith([file('02-bell/hum.wav', 800), ...documents])
    fillTarget(job([...bell, ...documents], { mayReplace: true }), folder, control)
    expect(folder.files()).toEqual(expected([...bell, ...documents]))
  })
})

describe('what is neither planned nor on record', () => {
  test.each([
    ['a file besides', [file('notes of the client.txt', 12)]],
    ['a file in a font’s folder', [file('02-BELL/extra.wav', 12)]],
    ['a planned file that somebody changed', [file('02-BELL/HUM.WAV', 800, 1)]],
    ['a planned file of another size', [file('02-BELL/HUM.WAV', 801)]],
    ['a file where a folder is to be', [file('02-BELL', 3)]],
  ])('is never removed unasked: %s', (_name, strangers) => {
    const others = content.filter(({ path }) => !strangers.some((each) => path.startsWith(each.path)))
    const folder = folderWith([...others, ...strangers])
    const before = folder.files()
    expect(() => fillTarget(job(content), folder, control)).toThrow(
      expect.objectContaining({
        code: 'target/strangers',
        what: expect.stringContaining(strangers[0]!.path),
      }),
    )
    expect(folder.files()).toEqual(before)
    const filled = fillTarget(job(content, { mayReplace: true }), folder, control)
    expect(folder.files()).toEqual(expected(content))
    expect(filled.removed).toEqual(strangers.map(({ path }) => path))
  })

  test('an empty folder counts too', () => {
    const folder = folderWith(content)
    folder.makeFolder('Takes')
    expect(() => fillTarget(job(content), folder, control)).toThrow(/"Takes"/)
    fillTarget(job(content, { mayReplace: true }), folder, control)
    expect(folder.rootNames()).not.toContain('Takes')
  })

  test('but a former content on record makes way', () => {
    const former = [...bell, file('03-OLD/HUM.WAV', 700), file('CREDITS.TXT', 61)]
    const folder = folderWith(former)
    const filled = fillTarget(job(content, { known: former }), folder, control)
    expect(folder.files()).toEqual(expected(content))
    expect(filled.removed).toEqual(['03-OLD/HUM.WAV', 'CREDITS.TXT'])
  })
})

describe('what operating systems leave', () => {
  const litter = ['.DS_Store', '02-BELL/._HUM.WAV', 'Thumbs.db', '.fseventsd/fseventsd-uuid']

  test('is removed and told', () => {
    const folder = folderWith([...content, ...litter.map((path) => file(path, 5))])
    const { litterRemoved } = fillTarget(job(content), folder, control)
    expect(folder.files()).toEqual(expected(content))
    expect(litterRemoved.toSorted()).toEqual(
      ['.DS_Store', '02-BELL/._HUM.WAV', '.fseventsd', 'Thumbs.db'].toSorted(),
    )
  })

  test('stays where it is trash that holds something, and is in nobody’s way', () => {
    const folder = folderWith([...content, file('.Trash-1000/files/thrown away.wav', 9)])
    expect(fillTarget(job(content), folder, control).litterRemoved).toEqual([])
    expect(folder.files()).toContainEqual(['.Trash-1000/files/thrown away.wav', expect.any(String)])
  })

  test('is no litter where the plan has it', () => {
    const planned = [...bell, file('02-BELL/Thumbs.db', 30)]
    const folder = new FatFolder()
    fillTarget(job(planned), folder, control)
    expect(fillTarget(job(planned), folder, control).filesWritten).toBe(0)
    expect(folder.files()).toEqual(expected(planned))
  })
})

describe('room', () => {
  const big = Array.from({ length: 8 }, (_, index) => file(`0${index}-FONT/HUM.WAV`, 5_120))
  const former = Array.from({ length: 8 }, (_, index) => file(`0${index}-OLD/HUM.WAV`, 5_120))

  test('that is too little is told before anything is touched', () => {
    const folder = folderWith([file('x.wav', 500)], { clusters: 60 })
    const before = folder.files()
    expect(() => fillTarget(job(big, { mayReplace: true }), folder, control)).toThrow(
      expect.objectContaining({ code: 'target/too-full', kind: 'unmet' }),
    )
    expect(folder.files()).toEqual(before)
  })

  test('is made by a former content going first, where there is none for both', () => {
    const folder = folderWith(former, { clusters: 110 })
    fillTarget(job(big, { known: former }), folder, control)
    expect(folder.files()).toEqual(expected(big))
  })
})

describe('an end half way', () => {
  test('while writing leaves the former content as it was', () => {
    const former = [...bell, file('CREDITS.TXT', 61)]
    const folder = folderWith(former)
    const before = folder.files()
    let bytes = 0
    const cancelled = {
      ...control,
      onProgress: () => {
        if (++bytes === 3) throw new Cancelled()
      },
    }
    expect(() => fillTarget(job(content, { known: former }), folder, cancelled)).toThrow(Cancelled)
    expect(folder.files()).toEqual(before)
    expect(folder.rootNames()).toEqual(['02-BELL', 'CREDITS.TXT'])
  })

  test('by a card that does not give back what was written puts nothing in place', () => {
    const folder = new FatFolder()
    const wrong = new Proxy(folder, {
      get: (target, name) =>
        name === 'hashFile' ? () => 'something else' : (Reflect.get(target, name) as () => void).bind(target),
    })
    expect(() => fillTarget(job(content), wrong, control)).toThrow(
      expect.objectContaining({ code: 'target/not-verified' }),
    )
    expect(folder.rootNames()).toEqual([])
  })

  test('at any step is mended by the next run', () => {
    const former = [...bell, file('03-OLD/HUM.WAV', 700), file('CREDITS.TXT', 61)]
    const made = () => folderWith(former)
    const whole = made()
    fillTarget(job(content, { known: former }), whole, control)
    const steps = whole.steps
    for (let step = 0; step <= steps; step++) {
      const folder = made()
      folder.stopAfter(step)
      try {
        fillTarget(job(content, { known: former }), folder, control)
      } catch (error) {
        if (!(error instanceof Killed)) throw error
      }
      folder.goOn()
      fillTarget(job(content, { known: former }), folder, control)
      expect(folder.files()).toEqual(expected(content))
    }
  })
})

const names = fc.constantFrom(
  ...['01-EMBER', '02-BELL', '03-Harbour Bell', '04-A Font of a rather long name', 'X', 'sounds.of.all'],
)
const fileNames = fc.constantFrom(
  'HUM.WAV',
  'hum.wav.txt',
  'IGNITE01.WAV',
  'a companion with a long name.png',
  'B',
)
const rootFile = fc.constantFrom('CREDITS.TXT', 'LICENCES.CDX.JSON', 'config.ini', 'BOOT.WAV')
const sizes = fc.integer({ min: 0, max: 3_000 })

/** Files of a card in plan order: fonts' folders, deeper ones among them, then files of the root. */
const plans = fc
  .tuple(
    fc.uniqueArray(names, { minLength: 1, maxLength: 5 }),
    fc.uniqueArray(rootFile, { maxLength: 4 }),
    fc.array(fc.tuple(fileNames, fc.boolean(), sizes), { minLength: 5, maxLength: 25 }),
    fc.integer({ min: 0, max: 1 }),
  )
  .map(([tops, roots, drawn, seed]) => {
    const paths = new Map<string, CardFile>()
    tops.forEach((top, index) => {
      const own = drawn.filter((_, at) => at % tops.length === index)
      const inOrder = [...own.filter(([, isDeep]) => !isDeep), ...own.filter(([, isDeep]) => isDeep)]
      for (const [name, isDeep, size] of inOrder) {
        const path = isDeep ? `${top}/takes/${name}` : `${top}/${name}`
        if (!paths.has(path)) paths.set(path, file(path, size, seed))
      }
    })
    roots.forEach((name, index) => paths.set(name, file(name, 10 + index, seed)))
    return [...paths.values()]
  })

const isTold = (error: unknown) => error instanceof AppError && error.code === 'target/too-full'

describe('whatever a target held, and wherever a run was broken off', () => {
  const situations = fc.record({
    former: plans,
    planned: plans,
    removedBefore: fc.array(fc.nat(30), { maxLength: 6 }),
    labelSlot: fc.constantFrom(undefined, 0),
    killedAt: fc.nat(160),
    killedAgainAt: fc.nat(200),
  })

  test('it holds the plan afterwards, in play order', () => {
    fc.assert(
      fc.property(situations, ({ former, planned, removedBefore, labelSlot, killedAt, killedAgainAt }) => {
        const folder = folderWith(former, labelSlot === undefined ? {} : { labelSlot })
        for (const index of removedBefore) {
          const gone = former[index % former.length]
          if (gone !== undefined && folder.files().some(([path]) => path === gone.path))
            folder.removeFile(gone.path)
        }
        const run = () => fillTarget(job(planned, { known: former }), folder, control)
        for (const step of [killedAt, killedAgainAt]) {
          folder.stopAfter(step)
          try {
            run()
          } catch (error) {
            if (!(error instanceof Killed)) throw error
          }
          folder.goOn()
        }
        run()
        expect(folder.files()).toEqual(expected(planned))
        expect(run()).toMatchObject({ filesWritten: 0, removed: [], wasReseated: false })
      }),
      { numRuns: 1_000 },
    )
  })

  test('a small one is filled or told to be too small, with nothing touched', () => {
    fc.assert(
      fc.property(plans, plans, fc.integer({ min: 0, max: 90 }), (former, planned, spare) => {
        const measure = folderWith(former).room()
        const used = 1_000_000 - measure.freeBytes / measure.clusterBytes
        const folder = folderWith(former, { clusters: used + spare })
        const before = folder.files()
        try {
          fillTarget(job(planned, { known: former }), folder, control)
          expect(folder.files()).toEqual(expected(planned))
        } catch (error) {
          if (!isTold(error)) throw error
          expect(folder.files()).toEqual(before)
        }
      }),
      { numRuns: 1_000 },
    )
  })
})
