import { readFileSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { handMadeZip } from '../../support/hand-made-zip.ts'
import { plainWave } from '../../support/plain-wave.ts'
import { temporaryFolder, writeFiles } from '../../support/temporary-folder.ts'
import { openWorkshop } from '../../../main/workshop.ts'

const control = { onProgress: () => undefined, cancel: new AbortController().signal }

test('a sound is opened by its id where it lies: in a folder, in an archive, in an archive of an archive', async () => {
  const folder = temporaryFolder()
  const waves = [plainWave(1), plainWave(2), plainWave(3)] as const
  const inner = handMadeZip([{ name: 'Three/hum.wav', data: waves[2] }])
  writeFiles(folder, {
    'fonts/One/hum.wav': waves[0],
    'fonts/two.zip': handMadeZip([
      { name: 'Two/hum.wav', data: waves[1] },
      { name: 'more/three.zip', data: inner },
    ]),
    'alone.zip': handMadeZip([{ name: 'hum.wav', data: plainWave(4) }]),
  })
  const workshop = await openWorkshop({ folder: join(folder, 'workshop') })
  try {
    await workshop.core.scan({ paths: [join(folder, 'fonts'), join(folder, 'alone.zip')] }, control)
    const { fonts } = await workshop.core['fonts:list']({}, control)
    expect(fonts.map((font) => font.font.name).toSorted()).toEqual(['One', 'alone', 'three', 'two'])
    const wanted = new Map<string, Uint8Array>([
      ['One', waves[0]],
      ['two', waves[1]],
      ['three', waves[2]],
      ['alone', plainWave(4)],
    ])
    for (const { id, font } of fonts) {
      const { edition } = await workshop.core['fonts:show']({ editionId: id }, control)
      const opened = await workshop.openSound(edition.sounds[0]!.id)
      const bytes = wanted.get(font.name)!
      expect(opened.sizeBytes).toBe(bytes.length)
      expect(await new Response(opened.read(0, bytes.length)).bytes()).toEqual(bytes)
      expect(await new Response(opened.read(40, 50)).bytes()).toEqual(bytes.slice(40, 50))
    }
  } finally {
    await workshop.close()
  }
})

test('a sound that is gone, or whose place holds other bytes, is refused with what to do', async () => {
  const folder = temporaryFolder()
  writeFiles(folder, { 'fonts/One/hum.wav': plainWave(1), 'fonts/One/clash.wav': plainWave(2) })
  const workshop = await openWorkshop({ folder: join(folder, 'workshop') })
  try {
    await workshop.core.scan({ paths: [join(folder, 'fonts')] }, control)
    const [font] = (await workshop.core['fonts:list']({}, control)).fonts
    const { edition } = await workshop.core['fonts:show']({ editionId: font!.id }, control)
    rmSync(join(folder, 'fonts/One/hum.wav'))
    writeFiles(folder, { 'fonts/One/clash.wav': plainWave(2, 1000) })
    for (const { id } of edition.sounds) {
      await expect(workshop.openSound(id)).rejects.toMatchObject({ code: 'sound/gone' })
    }
    const clash = edition.sounds.find(({ path }) => path === 'clash.wav')!
    writeFiles(folder, { 'fonts/One/clash.wav': plainWave(2) })
    expect((await workshop.openSound(clash.id)).sizeBytes).toBe(plainWave(2).length)
    writeFiles(folder, { 'fonts/One/clash.wav': plainWave(3) })
    expect(plainWave(3).length).toBe(plainWave(2).length)
    await expect(workshop.openSound(clash.id)).rejects.toMatchObject({ code: 'sound/gone' })
    await expect(workshop.openSound('no-such-id')).rejects.toMatchObject({ code: 'sound/unknown' })
    expect(readFileSync(join(folder, 'fonts/One/clash.wav')).length).toBeGreaterThan(0)
  } finally {
    await workshop.close()
  }
})
