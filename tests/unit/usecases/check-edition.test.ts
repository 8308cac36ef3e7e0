import { describe, expect, test } from 'vitest'
import { demoFilesOf } from '../../../app/usecases/demo/demo-files.ts'
import { readScenario } from '../../../app/usecases/demo/scenario.ts'
import { readFileSync } from 'node:fs'
import { cardNames } from '../../../app/boards/card-names.ts'
import { readRoles } from '../../../app/boards/read-roles.ts'
import { AppError } from '../../../app/errors/app-error.ts'
import type { Edition } from '../../../app/model/library.ts'
import type { Build, Licence } from '../../../app/model/records.ts'
import { checkFonts, type CheckPorts } from '../../../app/usecases/check-edition.ts'
import { createJudging } from '../../../app/usecases/judging.ts'
import type { SpeakerLevels } from '../../../app/usecases/speaker-levels.ts'
import { JudgedCache } from '../../../app/usecases/judged-cache.ts'
import { contextLike, fontLike, judged } from '../../support/judged-font.ts'
import { plainBuild } from '../../support/plain-build.ts'
import { boardLikeBench44, shippedBoard, shippedBoardText } from '../../support/shipped-boards.ts'
import { shippedScheme, shippedSchemes } from '../../support/shipped-schemes.ts'

const build = (change: Partial<Build> = {}): Build => ({
  ...plainBuild({ clientLabel: 'Client A' }),
  id: 'b',
  singleSounds: [],
  ...change,
})

/** A speaker through which every loop has the same level, from 300 Hz up. */
const speakerLevels: SpeakerLevels = {
  hear: (_, limitHz) => Promise.resolve(() => (limitHz === null ? null : -26)),
  known: () => Promise.resolve(() => null),
}

/** The part of a workshop that a check reads, over given rows. */
function portsOver(
  editions: readonly Edition[],
  builds: readonly Build[] = [],
  licences: readonly Licence[] = [],
): CheckPorts {
  const database = {
    library: {
      listEditions: () => Promise.resolve(editions),
      getEditions: (ids: readonly string[]) =>
        Promise.resolve(ids.flatMap((id) => editions.filter((edition) => edition.id === id))),
    },
    records: {
      listBuilds: () => Promise.resolve(builds),
      findSetting: () => Promise.resolve(undefined),
      findBuildByCode: (code: string) => Promise.resolve(builds.find((each) => each.code === code)),
      listLicences: () => Promise.resolve(licences),
      listLicencesOfFonts: (ids: readonly string[]) =>
        Promise.resolve(licences.filter((licence) => ids.includes(licence.fontId))),
    },
  } as unknown as CheckPorts['database']
  const getScheme = (id: string) => Promise.resolve(shippedScheme(id))
  return {
    database,
    getBoard: async (id) => {
      const board = shippedBoard(id)
      return { board, text: shippedBoardText(id), scheme: await getScheme(board.names.scheme) }
    },
    judging: createJudging({ database, getScheme, speakerLevels }),
  }
}

const quietControl = {
  onProgress: () => undefined,
  cancel: { aborted: false, addEventListener: () => undefined, removeEventListener: () => undefined },
}

describe('a check', () => {
  const fonts = [
    fontLike({ name: 'Amber' }),
    fontLike({ name: 'Zinc', sounds: { 'hum.wav': { levels: { integratedLufs: -20 } } } }),
  ]

  test('of the whole library judges font by font, and no card', async () => {
    const report = await checkFonts({ boardId: 'bench-44' }, portsOver(fonts), quietControl)
    expect(report.fonts.map((font) => [font.font, font.verdict.word])).toEqual([
      ['Amber', 'ready'],
      ['Zinc', 'ready'],
    ])
    expect(report.cardFindings).toEqual([])
  })

  test('of named fonts judges them as one card too', async () => {
    const request = { boardId: 'bench-44', editionIds: fonts.map((font) => font.id) }
    const report = await checkFonts(request, portsOver(fonts), quietControl)
    expect(report.cardFindings.map((finding) => finding.rule)).toEqual(['card-level-spread'])
  })

  test('of a build takes its board, its speaker and its other builds’ uses', async () => {
    const [amber] = fonts
    const licence: Licence = {
      id: 'l',
      fontId: amber!.font.id,
      fontName: 'Amber',
      holder: '',
      kind: 'bought',
      grantedOn: '',
      orderReference: '',
      terms: 'One build.',
      conversionAllowed: 'unknown',
      note: '',
    }
    const builds = [
      build({ fontEditionIds: [amber!.id], speakerLowLimitHz: 350 }),
      build({ code: 'EX-2', fontEditionIds: [amber!.id] }),
    ]
    const low = fontLike({ name: 'Amber', sounds: { 'clash-01.wav': { measures: { lowShare: 0.9 } } } })
    const report = await checkFonts({ buildCode: 'EX-1' }, portsOver([low], builds, [licence]), quietControl)
    const found = report.fonts[0]?.findings ?? []
    expect(found.map((finding) => finding.rule)).toEqual(['licence-no-seat', 'low-share', 'level'])
    expect(found.at(-1)?.message).toContain('-26 LUFS as heard through a speaker from 350 Hz')
  })

  test('of a build weighs rules as the build does, and tells its reason', async () => {
    const loud = fontLike({ name: 'Amber', sounds: { 'clash-01.wav': { measures: { clippedRuns: 4 } } } })
    const quiet = fontLike({ name: 'Zinc', sounds: { 'hum.wav': { levels: { integratedLufs: -20 } } } })
    const change = (rule: string, severity: 'error' | 'off') => ({ rule, severity, reason: `why ${rule}` })
    const builds = [
      build({ fontEditionIds: [loud.id, quiet.id] }),
      build({
        code: 'EX-2',
        fontEditionIds: [loud.id, quiet.id],
        ruleChanges: [change('card-level-spread', 'off'), change('clipped', 'error')],
      }),
    ]
    const ports = portsOver([loud, quiet], builds)
    const told = async (buildCode: string) => {
      const report = await checkFonts({ buildCode }, ports, quietControl)
      return [...report.fonts.flatMap((font) => font.findings), ...report.cardFindings].flatMap(
        ({ rule, severity, why }) => (rule.startsWith('licence') ? [] : [`${severity} ${rule}: ${why}`]),
      )
    }
    const usual = [
      expect.stringMatching(/^warning clipped: (?!.*by the build)/),
      expect.stringMatching(/^warning card-level-spread: (?!.*by the build)/),
    ]
    expect(await told('EX-1')).toEqual(usual)
    expect(await told('EX-2')).toEqual([
      expect.stringMatching(/^error clipped: .*Weighed as error by the build: why clipped.$/),
      'note card-level-spread: The reason given: why card-level-spread.',
    ])
    // What was judged for one build is no opinion of another.
    expect(await told('EX-1')).toEqual(usual)
  })

  test.each([
    [{}, 'selection/empty'],
    [{ buildCode: 'none' }, 'build/unknown'],
    [{ boardId: 'bench-44', editionIds: [] }, 'selection/empty'],
  ])('of %j is refused with %s', async (request, code) => {
    const refused = checkFonts(request, portsOver(fonts), quietControl)
    await expect(refused).rejects.toBeInstanceOf(AppError)
    await expect(refused).rejects.toMatchObject({ code })
  })

  test('judges again only the font that changed', async () => {
    const library = ['Amber', 'Basalt', 'Copper'].map((name) => fontLike({ name }))
    const ports = portsOver(library)
    const findingsOf = async () => {
      const { fonts: checked } = await checkFonts({ boardId: 'bench-44' }, ports, quietControl)
      return checked.map(({ findings }) => findings)
    }
    const first = await findingsOf()
    const second = await findingsOf()
    library[1] = fontLike({ name: 'Basalt', sounds: { 'clash-01.wav': { measures: { clippedRuns: 4 } } } })
    const [hum] = library[1]!.sounds
    library[1] = {
      ...library[1]!,
      sounds: [
        { ...hum!, inspection: { ...hum!.inspection, sha256: 'changed' } },
        ...library[1]!.sounds.slice(1),
      ],
    }
    const third = await findingsOf()
    // An opinion that was kept is the very same one; one that was formed anew is another, equal or not.
    expect(first.map((findings, index) => findings === second[index])).toEqual([true, true, true])
    expect(second.map((findings, index) => findings === third[index])).toEqual([true, false, true])
    expect(third[1]?.map(({ rule }) => rule)).toContain('clipped')
  })

  test('stops where the user cancels', async () => {
    const control = { ...quietControl, cancel: { ...quietControl.cancel, aborted: true } }
    await expect(checkFonts({ boardId: 'bench-44' }, portsOver(fonts), control)).rejects.toMatchObject({
      code: 'cancelled',
    })
  })
})

describe('what was judged is judged again', () => {
  const board = shippedBoard('bench-44')
  const scheme = shippedScheme('plain-words')
  const font = fontLike()

  function judgedTwice(
    second: { edition?: Edition; board?: typeof board; context?: object },
    first: Edition = font,
  ): number {
    const cache = new JudgedCache()
    let times = 0
    const judge = () => {
      times++
      return judged(font)
    }
    cache.judged(first, board, scheme, contextLike(board), judge)
    cache.judged(
      second.edition ?? first,
      second.board ?? board,
      scheme,
      contextLike(board, second.context ?? {}),
      judge,
    )
    return times
  }

  test.each([
    ['only once while nothing changed', {}, 1],
    [
      'where a sound has other bytes',
      {
        edition: {
          ...font,
          sounds: font.sounds.map((sound, index) =>
            index === 0 ? { ...sound, inspection: { ...sound.inspection, sha256: 'other' } } : sound,
          ),
        },
      },
      2,
    ],
    [
      'where a role was told',
      { edition: { ...font, sounds: font.sounds.map((sound) => ({ ...sound, place: null })) } },
      2,
    ],
    ['where the board changed', { board: { ...boardLikeBench44(''), id: 'bench-44' } }, 2],
    ['where a loop was heard through the speaker', { context: { throughSpeakerLevelOf: () => -24 } }, 2],
    ['where the speaker is another', { context: { speakerLowLimitHz: 300 } }, 2],
    ['where a licence was recorded', { context: { licences: [] } }, 2],
    [
      'where the build weighs a rule anew',
      { context: { changes: [{ rule: 'level', severity: 'note', reason: 'x' }] } },
      2,
    ],
    ['where litter was swept away', { edition: { ...font, litter: ['x'] } }, 2],
  ])('%s', (_what, second, times) => expect(judgedTwice(second)).toBe(times))

  test('where a sound that nobody knew was told to be for nothing', () => {
    const withSource = (roleSource: 'user' | null): Edition => ({
      ...font,
      sounds: font.sounds.map((sound) => ({ ...sound, place: null, roleSource })),
    })
    expect(judgedTwice({ edition: withSource(null) }, withSource(null))).toBe(1)
    expect(judgedTwice({ edition: withSource('user') }, withSource(null))).toBe(2)
  })
})

test('the roles of every demo font are read, and every sound gets a name on the demo board', () => {
  const scenario = readScenario(
    readFileSync(new URL('../../../resources/demo/scenario.yaml', import.meta.url), 'utf8'),
  )
  const board = shippedBoard(scenario.boardId)
  for (const font of scenario.fonts) {
    const paths = demoFilesOf(scenario, font)
      .map((file) => file.path)
      .filter((path) => path.endsWith('.wav') && !path.startsWith('.'))
    const { schemeId, places } = readRoles(paths, shippedSchemes)
    expect(schemeId, font.name).not.toBeNull()
    const sounds = paths.map((path, index) => ({ path, place: places[index] ?? null }))
    const names = cardNames(sounds, [], board, shippedScheme(board.names.scheme))
    expect(
      names.filter((name) => name.to === null),
      font.name,
    ).toEqual([])
  }
})
