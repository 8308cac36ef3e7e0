import type { Command } from 'commander'
import type { Sound } from '../../app/model/sound.ts'
import { fontTitle } from '../../app/usecases/find-font.ts'
import { fontsOf } from './chosen-fonts.ts'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import { reply } from './reply.ts'
import type { Session } from './session.ts'
import { counted, decimal, table, type Cell } from './table.ts'

/** `sounds`: every sound of a font with its role, format and measures. */
export function registerSounds(program: Command, session: Session): void {
  program
    .command('sounds')
    .description('every sound of a font: what it is for, its format and its measures')
    .argument('<font>', 'name or id')
    .addHelpText('after', examples('sounds "Harbour Bell"'))
    .action((word: string) =>
      session.withCore(async (ask) => {
        const [font] = await fontsOf(ask, [word])
        const { edition } = await ask('fonts:show', { editionId: font?.id ?? word })
        const { sounds, companions, litter } = edition
        const document = {
          editionId: edition.id,
          font: edition.font.name,
          version: edition.version,
          sounds,
          companions,
          litter,
        }
        const text = [
          printable(
            `${fontTitle(edition.font.name, edition.version)}: ${counted(sounds.length, 'sound')}, ${counted(companions.length, 'companion')}, ${counted(litter.length, 'file')} of litter`,
          ),
          '',
          table(
            ['sound', 'role', 'Hz', 'bits', 'channels', 'seconds', 'LUFS', 'dBTP', 'remark'],
            sounds.map(row),
          ),
        ].join('\n')
        return reply(document, text)
      }),
    )
}

function row(sound: Sound): readonly Cell[] {
  const { facts, measures, problem } = sound.inspection
  const levels = measures?.levels
  return [
    sound.path,
    roleWords(sound),
    facts?.sampleRateHz ?? null,
    facts?.bitDepth ?? null,
    facts?.channels ?? null,
    decimal(facts?.seconds, 2),
    decimal(levels?.integratedLufs ?? levels?.momentaryMaxLufs, 1),
    decimal(levels?.truePeakDbtp, 1),
    problem?.message ?? facts?.defects[0]?.message ?? '',
  ]
}

function roleWords({ place }: Sound): string | null {
  if (place === null) return null
  return [
    place.role,
    place.part === 'body' ? '' : place.part,
    place.layer ?? '',
    place.number === null ? '' : String(place.number),
  ]
    .filter((word) => word !== '')
    .join(' ')
}
