import { describe, expect, test } from 'vitest'
import type { WorkshopDatabase } from '../../app/ports/workshop-database.ts'
import { contentOf, inspectionOf, scannedEdition, scanOutcome } from '../support/library-rows.ts'

/** What any WorkshopDatabase must do. `open` gives an empty one, closed with the test. */
export function workshopDatabaseSuite(name: string, open: () => Promise<WorkshopDatabase>): void {
  const addRoot = (database: WorkshopDatabase, path = '/fonts') =>
    database.inTransaction(({ library }) =>
      library.addRoot({ path, kind: 'folder', addedAt: '2026-11-25T08:00:00Z' }),
    )
  const scan = (database: WorkshopDatabase, ...args: Parameters<typeof scanOutcome>) =>
    database.inTransaction(({ library }) => library.applyScan(scanOutcome(...args)))
  const creator = (creatorName: string) => ({ name: creatorName, contact: '', note: '' })

  describe(`${name}: transactions`, () => {
    test('what a transaction wrote is read after it, and not while it is open', async () => {
      const database = await open()
      await database.inTransaction(async ({ records }) => {
        await records.addCreator(creator('Ember Row'))
        expect(await records.listCreators()).toHaveLength(1)
        expect(await database.records.listCreators()).toHaveLength(0)
      })
      expect((await database.records.listCreators()).map((one) => one.name)).toEqual(['Ember Row'])
    })

    test('when the work fails, nothing of it is left, and the failure comes through', async () => {
      const database = await open()
      const failing = database.inTransaction(async ({ records }) => {
        await records.addCreator(creator('Ember Row'))
        throw new Error('on purpose')
      })
      await expect(failing).rejects.toThrow('on purpose')
      expect(await database.records.listCreators()).toEqual([])
      expect(await database.records.listJournal(10)).toEqual([])
    })

    test('transactions started at once run one after the other', async () => {
      const database = await open()
      const order: string[] = []
      await Promise.all(
        ['first', 'second', 'third'].map((word) =>
          database.inTransaction(async ({ records }) => {
            order.push(`${word} begins`)
            await records.addCreator(creator(word))
            await records.listCreators()
            order.push(`${word} ends`)
          }),
        ),
      )
      expect(order).toEqual([
        'first begins',
        'first ends',
        'second begins',
        'second ends',
        'third begins',
        'third ends',
      ])
      expect(await database.records.listCreators()).toHaveLength(3)
    })

    test('a failed transaction does not hold up the next', async () => {
      const database = await open()
      const failing = database.inTransaction(() => Promise.reject(new Error('on purpose')))
      const following = database.inTransaction(({ records }) => records.addCreator(creator('Quay Nine')))
      await expect(failing).rejects.toThrow('on purpose')
      expect((await following).name).toBe('Quay Nine')
    })

    test('what the work did not wait for is part of it all the same', async () => {
      const database = await open()
      await database.inTransaction(async ({ records }) => {
        void records.addCreator(creator('Ember Row'))
        void records.addCreator(creator('Quay Nine'))
      })
      expect(await database.records.listCreators()).toHaveLength(2)
    })

    test('what the work did not wait for fails it all the same', async () => {
      const database = await open()
      const careless = database.inTransaction(async ({ records }) => {
        await records.addCreator(creator('Ember Row'))
        void records.changeCreator('none', { note: 'x' })
      })
      await expect(careless).rejects.toMatchObject({ code: 'creator/unknown' })
      expect(await database.records.listCreators()).toEqual([])
    })

    test('a transaction that was let out of its work writes nothing more', async () => {
      const database = await open()
      const records = await database.inTransaction(async (transaction) => transaction.records)
      await expect(records.addCreator(creator('too late'))).rejects.toThrow(RangeError)
      expect(await database.records.listCreators()).toEqual([])
    })

    test('a transaction inside a transaction is refused, and does not wait for itself', async () => {
      const database = await open()
      await database.inTransaction(async ({ records }) => {
        await expect(database.inTransaction(async () => {})).rejects.toThrow(RangeError)
        await records.addCreator(creator('Ember Row'))
      })
      await database.inTransaction(async () => {})
      expect(await database.records.listCreators()).toHaveLength(1)
    })

    test('closing waits for the transaction under way; afterwards every call is told', async () => {
      const database = await open()
      const underWay = database.inTransaction(({ records }) => records.addCreator(creator('Ember Row')))
      await database.close()
      expect((await underWay).name).toBe('Ember Row')
      await expect(database.records.listCreators()).rejects.toMatchObject({ code: 'workshop/closed' })
      await expect(database.inTransaction(async () => {})).rejects.toMatchObject({ code: 'workshop/closed' })
      await database.close()
    })

    test('a write that was refused leaves the rest of the work standing', async () => {
      const database = await open()
      await database.inTransaction(async ({ records }) => {
        await records.addCreator(creator('Ember Row'))
        await expect(records.changeCreator('none', { note: 'x' })).rejects.toMatchObject({
          code: 'creator/unknown',
        })
      })
      expect(await database.records.listCreators()).toHaveLength(1)
    })

    test('a scan that stopped half-way is never committed, even where its failure was ignored', async () => {
      const database = await open()
      const root = await addRoot(database)
      // The sound's bytes were never inspected.
      const outcome = scanOutcome(root.id, [scannedEdition('/fonts/A', ['hum.wav'])], [])
      const careless = database.inTransaction(async ({ library, records }) => {
        await records.addCreator(creator('Ember Row'))
        await library.applyScan(outcome).catch(() => {})
      })
      await expect(careless).rejects.toThrow()
      expect(await database.records.listCreators()).toEqual([])
      expect(await database.library.listEditions()).toEqual([])
      expect(await database.library.listKnownFiles(root.id)).toEqual([])
    })

    test('every edit is in the journal by ids, newest first, and no name is', async () => {
      const database = await open()
      const added = await database.inTransaction(({ records }) => records.addCreator(creator('Ember Row')))
      await database.inTransaction(({ records }) => records.changeCreator(added.id, { note: 'wrote back' }))
      const journal = await database.records.listJournal(10)
      expect(journal.map(({ what, entity, entityId }) => [what, entity, entityId])).toEqual([
        ['changed note', 'creator', added.id],
        ['added', 'creator', added.id],
      ])
      expect(journal[0]?.who).toBe('test bench')
      expect(JSON.stringify(journal)).not.toContain('Ember Row')
    })
  })

  describe(`${name}: scans`, () => {
    test('a first scan adds its editions, with fonts, sounds and what is known of their bytes', async () => {
      const database = await open()
      const root = await addRoot(database)
      const editions = [
        scannedEdition('/fonts/Harbour Bell', ['hum.wav', 'clash-01.wav'], { version: '1.1' }),
      ]
      expect(await scan(database, root.id, editions, ['hum.wav', 'clash-01.wav'])).toEqual({
        added: 1,
        changed: 0,
        unchanged: 0,
        relinked: 0,
        gone: 0,
      })
      const [summary] = await database.library.listEditions()
      expect(summary).toMatchObject({
        version: '1.1',
        state: 'present',
        soundCount: 2,
        font: { name: 'Harbour Bell' },
      })
      const edition = await database.library.getEdition(summary!.id)
      expect(edition.sounds.map((sound) => sound.path)).toEqual(['clash-01.wav', 'hum.wav'])
      expect(edition.sounds[1]?.inspection).toEqual(inspectionOf('hum.wav'))
      expect(await database.library.findLastScan(root.id)).toEqual({
        treeDigest: 'digest',
        editionCount: 1,
        soundCount: 2,
      })
    })

    test('the same scan again finds everything unchanged', async () => {
      const database = await open()
      const root = await addRoot(database)
      await scan(database, root.id, [scannedEdition('/fonts/A', ['hum.wav'])], ['hum.wav'])
      const [known] = await database.library.listEditionIdentities()
      const again = [scannedEdition('/fonts/A', ['hum.wav'], { editionId: known!.editionId })]
      expect(await scan(database, root.id, again, [])).toMatchObject({
        added: 0,
        changed: 0,
        unchanged: 1,
        gone: 0,
      })
    })

    test('an edition that is no longer found is marked gone and not forgotten; found again, it is present', async () => {
      const database = await open()
      const root = await addRoot(database)
      await scan(database, root.id, [scannedEdition('/fonts/A', ['hum.wav'])], ['hum.wav'])
      expect(await scan(database, root.id, [], [])).toMatchObject({ gone: 1 })
      const [gone] = await database.library.listEditions()
      expect(gone?.state).toBe('gone')
      const back = [scannedEdition('/fonts/A', ['hum.wav'], { editionId: gone!.id })]
      await scan(database, root.id, back, [])
      expect((await database.library.listEditions()).map((edition) => [edition.id, edition.state])).toEqual([
        [gone!.id, 'present'],
      ])
    })

    test('a moved folder stays the same edition, with all that the user set', async () => {
      const database = await open()
      const root = await addRoot(database)
      await scan(database, root.id, [scannedEdition('/fonts/A', ['hum.wav'])], ['hum.wav'])
      const [known] = await database.library.listEditions()
      await database.inTransaction(({ library }) =>
        library.changeFont(known!.id, { name: 'Anchor Light', version: '2' }),
      )
      const moved = [scannedEdition('/fonts/elsewhere/B', ['hum.wav'], { editionId: known!.id })]
      expect(await scan(database, root.id, moved, [])).toMatchObject({ relinked: 1, added: 0, gone: 0 })
      const [edition] = await database.library.listEditions()
      expect(edition).toMatchObject({
        id: known!.id,
        version: '2',
        state: 'present',
        font: { name: 'Anchor Light' },
      })
      expect(edition?.places.map((place) => [place.path, place.state])).toEqual([
        ['/fonts/elsewhere/B', 'present'],
        ['/fonts/A', 'gone'],
      ])
    })

    test('a copied folder is one edition in two places; when one copy changes, it becomes its own', async () => {
      const database = await open()
      const root = await addRoot(database)
      await scan(database, root.id, [scannedEdition('/fonts/A', ['hum.wav'])], ['hum.wav'])
      const [known] = await database.library.listEditions()
      const editionId = known!.id
      const both = [
        scannedEdition('/fonts/A', ['hum.wav'], { editionId }),
        scannedEdition('/fonts/copy of A', ['hum.wav'], { editionId }),
      ]
      await scan(database, root.id, both, [])
      expect((await database.library.listEditions()).map((edition) => edition.places.length)).toEqual([2])
      const changed = [
        scannedEdition('/fonts/A', [['hum.wav', 'another hum']], { editionId }),
        scannedEdition('/fonts/copy of A', ['hum.wav'], { editionId }),
      ]
      expect(await scan(database, root.id, changed, ['another hum'])).toMatchObject({
        added: 1,
        unchanged: 1,
      })
      const kept = await database.library.getEdition(editionId)
      expect(kept.sounds[0]?.inspection.sha256).toBe(inspectionOf('hum.wav').sha256)
      expect(kept.places.map((place) => place.path)).toEqual(['/fonts/copy of A'])
    })

    test('new copies found by one scan are one edition in several places', async () => {
      const database = await open()
      const root = await addRoot(database)
      const copies = [
        scannedEdition('/fonts/A', ['hum.wav']),
        scannedEdition('/fonts/copy of A', ['hum.wav']),
      ]
      expect(await scan(database, root.id, copies, ['hum.wav'])).toEqual({
        added: 1,
        changed: 0,
        unchanged: 0,
        relinked: 1,
        gone: 0,
      })
      const editions = await database.library.listEditions()
      expect(editions.map((edition) => [edition.font.name, edition.places.map(({ path }) => path)])).toEqual([
        ['A', ['/fonts/A', '/fonts/copy of A']],
      ])
    })

    test('copies in two roots: one root is removed, and the edition is still there', async () => {
      const database = await open()
      const [one, other] = [await addRoot(database, '/fonts'), await addRoot(database, '/disk')]
      await scan(database, one.id, [scannedEdition('/fonts/A', ['hum.wav'])], ['hum.wav'])
      await scan(database, other.id, [scannedEdition('/disk/A', ['hum.wav'])], [])
      await database.inTransaction(({ library }) => library.removeRoot(one.id))
      const editions = await database.library.listEditions()
      expect(editions.map(({ state, places }) => [state, places.map((place) => place.state)])).toEqual([
        ['present', ['present', 'gone']],
      ])
      const again = await addRoot(database, '/fonts')
      expect(again.id).toBe(one.id)
    })

    test('a copy that changes while the other root still has it as it was becomes its own, in the same font', async () => {
      const database = await open()
      const [one, other] = [await addRoot(database, '/fonts'), await addRoot(database, '/disk')]
      await scan(database, one.id, [scannedEdition('/fonts/A', ['hum.wav'])], ['hum.wav'])
      await scan(database, other.id, [scannedEdition('/disk/A', ['hum.wav'])], [])
      const [known] = await database.library.listEditions()
      await database.inTransaction(({ library }) => library.changeFont(known!.id, { name: 'Anchor Light' }))
      const changed = [scannedEdition('/fonts/A', [['hum.wav', 'newer']], { editionId: known!.id })]
      expect(await scan(database, one.id, changed, ['newer'])).toMatchObject({
        added: 1,
        changed: 0,
        gone: 0,
      })
      const editions = await database.library.listEditions()
      expect(editions.map(({ font, places }) => [font.name, places.map(({ path }) => path)]).sort()).toEqual([
        ['Anchor Light', ['/disk/A']],
        ['Anchor Light', ['/fonts/A']],
      ])
      expect(new Set(editions.map(({ font }) => font.id)).size).toBe(1)
    })

    test('an edition whose only place changes stays the same edition, with ids of its sounds', async () => {
      const database = await open()
      const root = await addRoot(database)
      const first = scannedEdition('/fonts/A', ['hum.wav', 'clash.wav', 'boot.wav'])
      await scan(database, root.id, [first], ['hum.wav', 'clash.wav', 'boot.wav'])
      const [known] = await database.library.listEditions()
      const before = await database.library.getEdition(known!.id)
      // hum.wav has other bytes, clash.wav is called otherwise, boot.wav is gone and swing.wav new.
      const second = scannedEdition(
        '/fonts/A',
        [['hum.wav', 'better hum'], ['clash-01.wav', 'clash.wav'], 'swing.wav'],
        { editionId: known!.id },
      )
      const applied = await scan(database, root.id, [second], ['better hum', 'swing.wav'])
      expect(applied).toMatchObject({ added: 0, changed: 1, unchanged: 0, relinked: 0 })
      const after = await database.library.getEdition(known!.id)
      const idOf = (edition: typeof before, path: string) =>
        edition.sounds.find((sound) => sound.path === path)?.id
      expect(after.sounds.map((sound) => sound.path)).toEqual(['clash-01.wav', 'hum.wav', 'swing.wav'])
      expect(idOf(after, 'hum.wav')).toBe(idOf(before, 'hum.wav'))
      expect(idOf(after, 'clash-01.wav')).toBe(idOf(before, 'clash.wav'))
      expect(after.sounds.find((sound) => sound.path === 'hum.wav')?.inspection).toEqual(
        inspectionOf('better hum'),
      )
      expect(after).toMatchObject({ soundCount: 3, id: known!.id })
    })

    test('a renamed folder gives its font the new name and version, unless the user set them', async () => {
      const database = await open()
      const root = await addRoot(database)
      const found = [scannedEdition('/fonts/Embr', ['hum.wav']), scannedEdition('/fonts/Quay', ['quay.wav'])]
      await scan(database, root.id, found, ['hum.wav', 'quay.wav'])
      const [ember, quay] = await database.library.listEditions()
      await database.inTransaction(({ library }) =>
        library.changeFont(quay!.id, { name: 'Quay Nine', version: '3' }),
      )
      const renamed = [
        scannedEdition('/fonts/Ember v2', ['hum.wav'], {
          editionId: ember!.id,
          fontName: 'Ember',
          version: '2',
        }),
        scannedEdition('/fonts/Quay v4', ['quay.wav'], {
          editionId: quay!.id,
          fontName: 'Quay',
          version: '4',
        }),
      ]
      expect(await scan(database, root.id, renamed, [])).toMatchObject({ relinked: 2, gone: 0 })
      const editions = await database.library.listEditions()
      expect(editions.map(({ id, font, version }) => [id, font.id, font.name, version])).toEqual([
        [ember!.id, ember!.font.id, 'Ember', '2'],
        [quay!.id, quay!.font.id, 'Quay Nine', '3'],
      ])
    })

    test('a creator that the user set is kept by later scans, and joins later releases', async () => {
      const database = await open()
      const root = await addRoot(database)
      const by = { fontName: 'Bell', proposedCreatorName: 'downloads' }
      await scan(database, root.id, [scannedEdition('/fonts/Bell', ['hum.wav'], by)], ['hum.wav'])
      const [known] = await database.library.listEditions()
      const maker = await database.inTransaction(async ({ library, records }) => {
        const added = await records.addCreator(creator('Tidewater Bench'))
        await library.changeFont(known!.id, { creatorId: added.id })
        return added
      })
      const later = [
        scannedEdition('/fonts/Bell', ['hum.wav'], { ...by, editionId: known!.id, schemeId: 'short-words' }),
        scannedEdition('/fonts/tidewater bench/Bell 2', ['newer'], {
          fontName: 'bell',
          version: '2',
          proposedCreatorName: 'tidewater bench',
        }),
      ]
      expect(await scan(database, root.id, later, ['newer'])).toMatchObject({ added: 1, changed: 1 })
      const editions = await database.library.listEditions()
      expect(editions.map(({ font, version }) => [font.id, font.creatorName, version])).toEqual([
        [known!.font.id, 'Tidewater Bench', ''],
        [known!.font.id, 'Tidewater Bench', '2'],
      ])
      expect(editions[0]?.font.creatorId).toBe(maker.id)
    })

    test('two releases of a font by one creator are two editions of one font', async () => {
      const database = await open()
      const root = await addRoot(database)
      const by = { proposedCreatorName: 'Tidewater Bench' }
      await scan(
        database,
        root.id,
        [
          scannedEdition('/fonts/t/Bell v1', ['hum.wav'], { ...by, fontName: 'Bell', version: '1' }),
          scannedEdition('/fonts/t/bell v2', [['hum.wav', 'newer']], {
            ...by,
            fontName: 'bell',
            version: '2',
          }),
          scannedEdition('/fonts/o/Bell', [['hum.wav', 'other']], {
            fontName: 'Bell',
            proposedCreatorName: 'Other Bench',
          }),
        ],
        ['hum.wav', 'newer', 'other'],
      )
      const fonts = (await database.library.listEditions()).map((edition) => edition.font.id)
      expect(new Set(fonts).size).toBe(2)
      expect(fonts).toHaveLength(3)
    })

    test('removing a root marks its editions gone and keeps them; the root is no longer listed', async () => {
      const database = await open()
      const root = await addRoot(database)
      await scan(database, root.id, [scannedEdition('/fonts/A', ['hum.wav'])], ['hum.wav'])
      await database.inTransaction(({ library }) => library.removeRoot(root.id))
      expect(await database.library.listRoots()).toEqual([])
      expect((await database.library.listEditions()).map((edition) => edition.state)).toEqual(['gone'])
    })

    test('the files of the last scan are told to the next, and where bytes lie is found by their hash', async () => {
      const database = await open()
      const root = await addRoot(database)
      const outcome = scanOutcome(root.id, [scannedEdition('/fonts/A', ['hum.wav'])], ['hum.wav'])
      await database.inTransaction(({ library }) => library.applyScan(outcome))
      expect(await database.library.listKnownFiles(root.id)).toEqual(outcome.files)
      const { sha256 } = inspectionOf('hum.wav')
      expect(await database.library.findContentPlaces(sha256)).toEqual([
        { rootPath: '/fonts', path: 'A/hum.wav' },
      ])
      expect(await database.library.knownInspections([sha256, 'f'.repeat(64)])).toEqual([sha256])
    })

    test('what a speaker gives is kept by sound and limit, and replaced where it is measured again', async () => {
      const database = await open()
      const level = (soundKey: string, integratedLufs: number | null) => ({
        soundKey,
        readings: { integratedLufs, momentaryMaxLufs: -20 },
      })
      const keep = (limitHz: number, levels: ReturnType<typeof level>[]) =>
        database.inTransaction(({ library }) => library.keepSpeakerLevels(limitHz, levels))
      await keep(300, [level('a', -24), level('b', null)])
      await keep(350.5, [level('a', -27)])
      await keep(300, [level('a', -24.5)])
      expect(await database.library.findSpeakerLevels(300, ['b', 'none', 'a'])).toEqual([
        level('b', null),
        level('a', -24.5),
      ])
      expect(await database.library.listSpeakerLevels(350.5)).toEqual([level('a', -27)])
      expect(await database.library.listSpeakerLevels(200)).toEqual([])
    })

    test('files that are gone or changed are so in the next list, the others as they were', async () => {
      const database = await open()
      const root = await addRoot(database)
      const names = ['hum.wav', 'boot.wav', 'clash.wav']
      await scan(database, root.id, [scannedEdition('/fonts/A', names)], names)
      const [known] = await database.library.listEditions()
      const next = scanOutcome(
        root.id,
        [scannedEdition('/fonts/A', ['hum.wav', 'clash.wav'], { editionId: known!.id })],
        [],
      )
      const files = next.files
        .slice(0, next.files.length)
        .map((file) => (file.path === 'A/clash.wav' ? { ...file, sha256: null } : file))
      await database.inTransaction(({ library }) => library.applyScan({ ...next, files }))
      const listed = await database.library.listKnownFiles(root.id)
      expect(listed).toEqual(files.toSorted((a, b) => (a.path < b.path ? -1 : 1)))
      expect(await database.library.findContentPlaces(inspectionOf('boot.wav').sha256)).toEqual([])
      expect(await database.library.findContentPlaces(inspectionOf('clash.wav').sha256)).toEqual([])
    })

    test('a role that the user gave outlives scans, and the renaming of its file', async () => {
      const database = await open()
      const root = await addRoot(database)
      const place = { role: 'music', part: 'body', layer: null, number: 2 } as const
      const first = scannedEdition('/fonts/A', ['a.wav', 'b.wav', 'c.wav'])
      const byUser = { ...first.sounds[0]!, place, roleSource: 'user' as const }
      await scan(
        database,
        root.id,
        [{ ...first, sounds: [byUser, ...first.sounds.slice(1)] }],
        ['a.wav', 'b.wav', 'c.wav'],
      )
      const [known] = await database.library.listEditions()
      const next = scannedEdition('/fonts/A', [['z.wav', 'a.wav'], 'b.wav', 'c.wav'], {
        editionId: known!.id,
      })
      await scan(database, root.id, [next], [])
      const { sounds } = await database.library.getEdition(known!.id)
      expect(sounds.map((sound) => [sound.path, sound.place?.role, sound.roleSource])).toEqual([
        ['b.wav', 'hum', 'scheme'],
        ['c.wav', 'hum', 'scheme'],
        ['z.wav', 'music', 'user'],
      ])
      expect(sounds[2]?.place).toEqual(place)
    })

    test('companions, litter and problems are those of the last scan', async () => {
      const database = await open()
      const root = await addRoot(database)
      const companion = { path: 'read me.txt', sizeBytes: 12, sha256: 'a'.repeat(64), kind: 'text' } as const
      const problem = {
        path: 'bad.zip',
        code: 'archive/damaged',
        message: 'Cut short.',
        severity: 'fault',
      } as const
      const first = scannedEdition('/fonts/A', ['hum.wav'], { companions: [companion], litter: ['.trash'] })
      await scan(database, root.id, [first], ['hum.wav'], { problems: [problem] })
      const [known] = await database.library.listEditions()
      expect(known).toMatchObject({ companionCount: 1, sizeBytes: inspectionOf('hum.wav').sizeBytes + 12 })
      const before = await database.library.getEdition(known!.id)
      expect([before.companions, before.litter]).toEqual([[companion], ['.trash']])
      expect(await database.library.listScanProblems()).toEqual([{ ...problem, rootId: root.id }])
      const second = scannedEdition('/fonts/A', ['hum.wav'], { editionId: known!.id })
      expect(await scan(database, root.id, [second], [])).toMatchObject({ changed: 1 })
      const after = await database.library.getEdition(known!.id)
      expect([after.companions, after.litter, after.companionCount]).toEqual([[], [], 0])
      expect(await database.library.listScanProblems()).toEqual([])
    })

    test('what was read again replaces what was known of those bytes, in every edition that has them', async () => {
      const database = await open()
      const root = await addRoot(database)
      const failed = {
        ...inspectionOf('hum.wav'),
        facts: null,
        problem: { code: 'inspect/worker-died', message: 'x' },
      }
      await database.inTransaction(({ library }) => library.keepInspections([failed], []))
      await scan(database, root.id, [scannedEdition('/fonts/A', ['hum.wav'])], [])
      await database.inTransaction(({ library }) =>
        library.keepInspections(
          [inspectionOf('hum.wav')],
          [{ sha256: inspectionOf('hum.wav').sha256, pack: '1', offsetBytes: 5, lengthBytes: 7 }],
        ),
      )
      const [known] = await database.library.listEditions()
      const { sounds } = await database.library.getEdition(known!.id)
      expect(sounds[0]?.inspection).toEqual(inspectionOf('hum.wav'))
      expect(await database.library.findSound(sounds[0]!.id)).toEqual({
        editionId: known!.id,
        path: 'hum.wav',
        sha256: inspectionOf('hum.wav').sha256,
        sizeBytes: inspectionOf('hum.wav').sizeBytes,
      })
      expect(await database.library.findPeaks(inspectionOf('hum.wav').sha256)).toMatchObject({
        offsetBytes: 5,
      })
    })

    test('a scan of many files and editions is applied whole', async () => {
      const database = await open()
      const root = await addRoot(database)
      const names = Array.from({ length: 6000 }, (_, n) => `sound ${n}.wav`)
      const editions = Array.from({ length: 60 }, (_, n) =>
        scannedEdition(`/fonts/font ${n}`, names.slice(n * 100, n * 100 + 100)),
      )
      expect(await scan(database, root.id, editions, names)).toMatchObject({ added: 60 })
      expect((await database.library.listKnownFiles(root.id)).length).toBe(6000)
      const all = await database.library.getEditions(
        (await database.library.listEditions()).map((edition) => edition.id),
      )
      expect(all.reduce((sum, edition) => sum + edition.sounds.length, 0)).toBe(6000)
    })

    test('a scan of a root that is not known is refused', async () => {
      const database = await open()
      await expect(scan(database, 'nowhere', [], [])).rejects.toMatchObject({ code: 'root/unknown' })
    })
  })

  describe(`${name}: records`, () => {
    const withFont = async () => {
      const database = await open()
      const root = await addRoot(database)
      await scan(database, root.id, [scannedEdition('/fonts/A', ['hum.wav'])], ['hum.wav'])
      const [edition] = await database.library.listEditions()
      return { database, edition: edition! }
    }

    test('a licence is added, shown with its font, changed and removed', async () => {
      const { database, edition } = await withFont()
      const fields = {
        fontId: edition.font.id,
        holder: 'The Workshop',
        kind: 'bought' as const,
        grantedOn: '2026-05-01',
        orderReference: 'R-17',
        terms: 'one hilt',
        conversionAllowed: 'no' as const,
        note: '',
      }
      const licence = await database.inTransaction(({ records }) => records.addLicence(fields))
      expect(licence).toEqual({ ...fields, id: licence.id, fontName: 'A' })
      await database.inTransaction(({ records }) =>
        records.changeLicence(licence.id, { holder: 'A Client', note: 'asked' }),
      )
      expect(await database.records.listLicencesOfFonts([edition.font.id])).toEqual([
        { ...licence, holder: 'A Client', note: 'asked' },
      ])
      await database.inTransaction(({ records }) =>
        records.changeLicence(licence.id, { conversionAllowed: 'yes' }),
      )
      expect(await database.records.listLicences()).toMatchObject([
        { conversionAllowed: 'yes', holder: 'A Client', terms: 'one hilt' },
      ])
      await database.inTransaction(({ records }) => records.removeLicence(licence.id))
      expect(await database.records.listLicences()).toEqual([])
    })

    test('a build keeps its fonts in order, and its code is taken whatever its case', async () => {
      const { database, edition } = await withFont()
      const fields = {
        code: 'B-7',
        clientLabel: 'north bench',
        boardId: 'bench-44',
        speaker: '22 mm',
        speakerLowLimitHz: 320,
        fontEditionIds: [edition.id, edition.id],
        config: { fileName: 'CONFIG.TXT', text: 'volume 7\n' },
        ruleChanges: [
          { rule: 'level', severity: 'note' as const, reason: 'the client asked for it' },
          { rule: 'true-peak', severity: 'off' as const, reason: 'its amplifier has room' },
        ],
        note: '',
      }
      const build = await database.inTransaction(({ records }) => records.addBuild(fields))
      expect(await database.records.findBuildByCode('b-7')).toEqual({
        ...fields,
        id: build.id,
        singleSounds: [],
      })
      const again = database.inTransaction(({ records }) => records.addBuild({ ...fields, code: 'b-7' }))
      await expect(again).rejects.toMatchObject({ code: 'build/code-taken' })
      const [first] = fields.ruleChanges
      await database.inTransaction(({ records }) =>
        records.changeBuild(build.id, { ruleChanges: [{ ...first!, severity: 'error' }] }),
      )
      expect((await database.records.findBuildByCode('b-7'))?.ruleChanges).toEqual([
        { ...first, severity: 'error' },
      ])
      await database.inTransaction(({ records }) => records.changeBuild(build.id, { note: 'x' }))
      expect((await database.records.listBuilds())[0]?.ruleChanges).toHaveLength(1)
    })

    test('lists are sorted as people read names, and names are found whatever their case', async () => {
      const database = await open()
      await database.inTransaction(async ({ records }) => {
        for (const name of ['Quay 10', 'ÉCLAT', 'quay 9', 'Ember']) await records.addCreator(creator(name))
      })
      const names = (await database.records.listCreators()).map((one) => one.name)
      expect(names).toEqual(['ÉCLAT', 'Ember', 'quay 9', 'Quay 10'])
      expect((await database.records.findCreatorByName('éclat'))?.name).toBe('ÉCLAT')
      expect((await database.records.findCreatorByName('QUAY 10'))?.name).toBe('Quay 10')
      expect(await database.records.findCreatorByName('quay')).toBeUndefined()
    })

    test('a content is kept as it was first made, and given back whole; the newest comes first', async () => {
      const { database, edition } = await withFont()
      const first = contentOf('AAAAAAAAAA', edition, '2026-11-25T09:00:00Z')
      const second = contentOf('BBBBBBBBBB', edition, '2026-11-26T09:00:00Z')
      await database.inTransaction(async ({ records }) => {
        await records.addContent(first)
        await records.addContent(second)
        await records.addContent({ ...first, createdAt: '2030-01-01T00:00:00Z', toolVersion: '9' })
      })
      expect(await database.records.findContent('AAAAAAAAAA')).toEqual(first)
      expect(await database.records.findContent('aaaaaaaaaa')).toEqual(first)
      expect(await database.records.listContents()).toEqual([second, first])
      expect(await database.records.findContent('CCCCCCCCCC')).toBeUndefined()
    })

    test('a content can be replaced by one of the same fingerprint, and by no other', async () => {
      const { database, edition } = await withFont()
      const content = contentOf('AAAAAAAAAA', edition, '2026-11-25T09:00:00Z')
      const replacing = database.inTransaction(({ records }) => records.replaceContent(content))
      await expect(replacing).rejects.toMatchObject({ code: 'content/unknown' })
      const anew = { ...content, imageHash: 'e'.repeat(64) }
      await database.inTransaction(async ({ records }) => {
        await records.addContent(content)
        await records.replaceContent(anew)
      })
      expect(await database.records.listContents()).toEqual([anew])
    })

    test.each([
      ['creator', 'creator/unknown'],
      ['licence', 'licence/unknown'],
      ['build', 'build/unknown'],
    ])('changing a %s that is not there is refused as %s', async (what, code) => {
      const database = await open()
      const change = database.inTransaction(async ({ records }) => {
        if (what === 'creator') await records.changeCreator('none', { name: 'X' })
        if (what === 'licence') await records.changeLicence('none', { note: 'X' })
        if (what === 'build') await records.changeBuild('none', { note: 'X' })
      })
      await expect(change).rejects.toMatchObject({ code })
    })

    test('settings and texts of boards are kept', async () => {
      const database = await open()
      await database.inTransaction(async ({ records }) => {
        await records.setSetting('who', 'north bench')
        await records.setSetting('who', 'south bench')
        await records.keepBoardText('abc', 'bench-44', 'board: …')
      })
      expect(await database.records.findSetting('who')).toBe('south bench')
      expect(await database.records.findBoardText('abc')).toBe('board: …')
      expect(await database.records.findBoardText('other')).toBeUndefined()
      await database.inTransaction(({ records }) => records.keepBoardText('abc', 'bench-44', 'another'))
      expect(await database.records.findBoardText('abc')).toBe('board: …')
      expect(await database.records.listBoardTexts()).toEqual([
        { hash: 'abc', boardId: 'bench-44', keptAt: expect.stringMatching(/^20\d\d-/) },
      ])
    })
  })
}
