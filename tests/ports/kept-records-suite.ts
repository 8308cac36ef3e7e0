import { describe, expect, test } from 'vitest'
import type { SingleSound } from '../../app/model/single-sound.ts'
import type { WorkshopDatabase } from '../../app/ports/workshop-database.ts'
import { contentOf, inspectionOf, scannedEdition, scanOutcome } from '../support/library-rows.ts'
import { plainBuild } from '../support/plain-build.ts'

/** What any WorkshopDatabase must keep of single sounds, configs and originals. */
export function keptRecordsSuite(name: string, open: () => Promise<WorkshopDatabase>): void {
  const withFonts = async () => {
    const database = await open()
    const root = await database.inTransaction(({ library }) =>
      library.addRoot({ path: '/fonts', kind: 'folder', addedAt: '2026-11-25T08:00:00Z' }),
    )
    const editions = [
      scannedEdition('/fonts/A', ['hum.wav', 'clash.wav']),
      scannedEdition('/fonts/B', ['drag.wav', ['again.wav', 'clash.wav']]),
    ]
    const bytes = ['hum.wav', 'clash.wav', 'drag.wav']
    await database.inTransaction(({ library }) => library.applyScan(scanOutcome(root.id, editions, bytes)))
    const [a, b] = await database.library.listEditions()
    return { database, a: a!, b: b! }
  }
  const buildOf = (fontEditionIds: readonly string[]) => plainBuild({ code: 'B-7', fontEditionIds })
  const hashOf = (bytes: string) => inspectionOf(bytes).sha256
  const kept = (path: string, bytes = path) => ({ path, sha256: hashOf(bytes), sizeBytes: 1000 })

  describe(`${name}: single sounds of a build`, () => {
    test('are given back as they were told, in their order, and replaced as a whole', async () => {
      const { database, a, b } = await withFonts()
      const { id } = await database.inTransaction(({ records }) => records.addBuild(buildOf([a.id])))
      const place = { role: 'clash', part: 'body', layer: null, number: 3 } as const
      const sound = { editionId: b.id, path: 'drag.wav' }
      const sounds: SingleSound[] = [
        { kind: 'left-out', editionId: a.id, path: 'clash.wav' },
        { kind: 'added', editionId: a.id, sound, place },
        { kind: 'added', editionId: a.id, sound, place: null },
        { kind: 'replaced', editionId: a.id, path: 'hum.wav', sound },
      ]
      await database.inTransaction(({ records }) => records.setSingleSounds(id, sounds))
      expect((await database.records.findBuildByCode('B-7'))?.singleSounds).toEqual(sounds)
      await database.inTransaction(({ records }) => records.changeBuild(id, { note: 'x' }))
      expect((await database.records.listBuilds())[0]?.singleSounds).toEqual(sounds)
      await database.inTransaction(({ records }) => records.setSingleSounds(id, []))
      expect((await database.records.listBuilds())[0]?.singleSounds).toEqual([])
    })

    test('of a font or build that is not there are refused', async () => {
      const { database, a } = await withFonts()
      const { id } = await database.inTransaction(({ records }) => records.addBuild(buildOf([a.id])))
      const sound = { editionId: 'none', path: 'x.wav' }
      const setting = (buildId: string, sounds: readonly SingleSound[]) =>
        database.inTransaction(({ records }) => records.setSingleSounds(buildId, sounds))
      const added = { kind: 'added', editionId: a.id, sound, place: null } as const
      await expect(setting(id, [added])).rejects.toMatchObject({ code: 'font/unknown' })
      await expect(setting('none', [])).rejects.toMatchObject({ code: 'build/unknown' })
    })
  })

  test(`${name}: each other config of a build is a version of its own, newest first`, async () => {
    const { database } = await withFonts()
    const config = (text: string) => ({ fileName: 'SETTINGS.TXT', text })
    const { id } = await database.inTransaction(({ records }) =>
      records.addBuild({ ...buildOf([]), config: config('volume 7\n') }),
    )
    const changing = (change: object) =>
      database.inTransaction(({ records }) => records.changeBuild(id, change))
    await changing({ note: 'nothing about the config' })
    await changing({ config: config('volume 5\n') })
    await changing({ config: null })
    await changing({ config: config('volume 5\n') })
    await changing({ config: config('volume 7\n') })
    const versions = await database.records.listConfigVersions(id)
    expect(versions.map(({ number, text }) => [number, text])).toEqual([
      [3, 'volume 7\n'],
      [2, 'volume 5\n'],
      [1, 'volume 7\n'],
    ])
    expect(versions[0]).toMatchObject({
      fileName: 'SETTINGS.TXT',
      recordedAt: expect.stringMatching(/^20\d\d-/),
    })
  })

  describe(`${name}: kept originals`, () => {
    test('are listed by path, also where a path had other bytes before', async () => {
      const { database, a } = await withFonts()
      const keeping = (path: string, bytes?: string) =>
        database.inTransaction(({ records }) => records.addKeptOriginals(a.id, [kept(path, bytes)]))
      await keeping('hum.wav')
      await keeping('hum.wav')
      await keeping('clash.wav')
      await keeping('hum.wav', 'other bytes')
      expect((await database.records.listKeptOriginals(a.id)).map(({ path }) => path)).toEqual([
        'clash.wav',
        'hum.wav',
        'hum.wav',
      ])
      const unknown = database.inTransaction(({ records }) => records.addKeptOriginals('none', []))
      await expect(unknown).rejects.toMatchObject({ code: 'font/unknown' })
    })

    test('are needed by licences of the font, builds with it or a sound of it, and contents', async () => {
      const { database, a, b } = await withFonts()
      expect(await database.records.listOriginalsNeeds(b.id)).toEqual([])
      await database.inTransaction(async ({ records }) => {
        const build = await records.addBuild(buildOf([a.id]))
        const sound = { editionId: b.id, path: 'drag.wav' }
        await records.setSingleSounds(build.id, [{ kind: 'added', editionId: a.id, sound, place: null }])
        await records.addLicence({
          fontId: b.font.id,
          holder: 'The Workshop',
          kind: 'gift',
          grantedOn: '2026-05-01',
          orderReference: '',
          terms: '',
          conversionAllowed: 'unknown',
          note: '',
        })
        const content = contentOf('AAAAAAAAAA', a, '2026-11-25T09:00:00Z')
        const lent = { ...content.files[0]!, path: '01-a/drag.wav', sha256: hashOf('drag.wav') }
        const origin = { kind: 'sound', editionId: b.id, path: 'drag.wav' } as const
        await records.addContent({ ...content, files: [...content.files, { ...lent, origin }] })
      })
      expect(await database.records.listOriginalsNeeds(b.id)).toEqual([
        { kind: 'build', name: 'B-7' },
        { kind: 'content', name: 'AAAAAAAAAA' },
        { kind: 'licence', name: 'B, gift on 2026-05-01' },
      ])
    })

    test('are free once dropped, but for what another edition or a content needs', async () => {
      const { database, a, b } = await withFonts()
      const drop = (editionId: string) =>
        database.inTransaction(({ records }) => records.dropKeptOriginals(editionId))
      await database.inTransaction(async ({ records, preparation }) => {
        await records.addKeptOriginals(a.id, [kept('hum.wav'), kept('clash.wav')])
        await records.addKeptOriginals(b.id, [kept('drag.wav'), kept('again.wav', 'clash.wav')])
        const outcome = {
          frames: 1,
          limitedByDb: 0,
          softenedByDb: 0,
          correctedByDb: 0,
          cutSamples: 0,
          removedDc: [],
        }
        const made = (original: string) => ({
          originalSha256: hashOf(original),
          recipeKey: '[]',
          tools: '1',
          preparedSha256: hashOf(`prepared ${original}`),
          outcome,
        })
        await preparation.keepPreparations([made('hum.wav'), made('clash.wav')])
      })
      expect([...(await drop(a.id))].sort()).toEqual([hashOf('hum.wav'), hashOf('prepared hum.wav')].sort())
      expect(await database.records.listKeptOriginals(a.id)).toEqual([])
      const content = contentOf('AAAAAAAAAA', b, '2026-11-25T09:00:00Z')
      const files = [{ ...content.files[0]!, sha256: hashOf('drag.wav') }]
      await database.inTransaction(({ records }) => records.addContent({ ...content, files }))
      expect([...(await drop(b.id))].sort()).toEqual(
        [hashOf('clash.wav'), hashOf('prepared clash.wav')].sort(),
      )
    })
  })
}
