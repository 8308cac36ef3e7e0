import type { Command } from 'commander'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { inUnits } from '../../app/model/in-units.ts'
import { fontTitle } from '../../app/usecases/find-font.ts'
import { fontsOf } from './chosen-fonts.ts'
import { examples } from './examples.ts'
import { keptLines } from './kept-lines.ts'
import { printable } from './printable.ts'
import { reply } from './reply.ts'
import type { Ask, Session } from './session.ts'
import { counted } from './table.ts'

/** `fonts originals|keep|release`: what the workshop keeps of a font, should its download be lost. */
export function registerOriginals(fonts: Command, session: Session): void {
  fonts
    .command('originals')
    .description('which originals of a font the workshop keeps, and what needs them')
    .argument('<font>', 'name or id')
    .addHelpText('after', examples('fonts originals "Harbour Bell"'))
    .action((word: string) =>
      session.withCore(async (ask) => {
        const shown = await ask('originals:show', { editionId: await editionIdOf(ask, word) })
        return reply(shown, originalsText(shown))
      }),
    )
  fonts
    .command('keep')
    .description(
      "keep a font's originals in the workshop, so that cards can be made when the download is gone",
    )
    .argument('<font>', 'name or id')
    .addHelpText('after', examples('fonts keep "Harbour Bell"'))
    .action((word: string) =>
      session.withCore(async (ask) => {
        const done = await ask('originals:keep', { editionId: await editionIdOf(ask, word) })
        return {
          document: done,
          text: [...keptLines(done.kept), originalsText(done.originals)].join('\n'),
          holds: done.kept.problems.length === 0,
        }
      }),
    )
  fonts
    .command('release')
    .description('give back the room of originals that no licence, build or card needs')
    .argument('<font>', 'name or id')
    .option('--only-copy', 'also where no folder or archive has them any more: they are lost then')
    .addHelpText('after', examples('fonts release "Harbour Bell"'))
    .action((word: string, { onlyCopy }: { onlyCopy?: boolean }) =>
      session.withCore(async (ask) => {
        const done = await ask('originals:release', {
          editionId: await editionIdOf(ask, word),
          ...(onlyCopy === true ? { onlyCopy } : {}),
        })
        const freed = `Released ${counted(done.freedFiles, 'file')}, ${inUnits(done.freedBytes)}`
        return reply(done, `${freed}\n${originalsText(done.originals)}`)
      }),
    )
}

async function editionIdOf(ask: Ask, word: string): Promise<string> {
  const [font] = await fontsOf(ask, [word])
  return font?.id ?? word
}

function originalsText(shown: ResponseOf<'originals:show'>): string {
  const earlier =
    shown.earlierFiles === 0
      ? []
      : [
          `  earlier  ${counted(shown.earlierFiles, 'file')} as they were before the folder changed, ${inUnits(shown.earlierBytes)}`,
        ]
  return [
    fontTitle(shown.font, shown.version),
    `  kept     ${shown.keptFiles} of ${counted(shown.files, 'original')}, ${inUnits(shown.keptBytes)} of ${inUnits(shown.bytes)}`,
    ...earlier,
    `  download ${shown.isElsewhere ? 'still there' : 'gone: what is kept is the only copy'}`,
    ...(shown.neededBy.length === 0
      ? ['  needed   by nothing on record']
      : shown.neededBy.map(({ kind, name }) => `  needed   by ${kind} ${name}`)),
  ]
    .map(printable)
    .join('\n')
}
