import type { Command } from 'commander'
import { AppError } from '../../app/errors/app-error.ts'
import { placeInWords } from '../../app/boards/place-words.ts'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import { reply } from './reply.ts'
import type { Session } from './session.ts'
import { table } from './table.ts'

/** `schemes`: how file names spell what a sound is for. */
export function registerSchemes(program: Command, session: Session): void {
  const schemes = program
    .command('schemes')
    .description('naming schemes: how file names spell what a sound is for')
  schemes
    .command('list')
    .description('all schemes, shipped ones first')
    .addHelpText('after', examples('schemes list'))
    .action(() =>
      session.withCore(async (ask) => {
        const list = await ask('schemes:list', {})
        const rows = list.schemes.map((scheme) => [
          scheme.id,
          scheme.title,
          scheme.source,
          scheme.templates.join('  '),
        ])
        const text = [
          table(['scheme', 'title', 'comes from', 'templates'], rows),
          ...list.problems.map(printable),
        ]
        return { document: list, text: text.join('\n'), holds: list.problems.length === 0 }
      }),
    )
  schemes
    .command('show')
    .description('how a scheme spells, by examples')
    .argument('<scheme>', 'id of the scheme')
    .addHelpText('after', examples('schemes show plain-words'))
    .action((schemeId: string) =>
      session.withCore(async (ask) => {
        const { schemes: all } = await ask('schemes:list', {})
        const scheme = all.find((each) => each.id === schemeId)
        if (scheme === undefined) {
          throw new AppError({
            code: 'scheme/unknown',
            what: 'There is no naming scheme of this id.',
            where: schemeId,
            mend: `There are ${all.map((each) => each.id).join(', ')}.`,
          })
        }
        const rows = scheme.examples.map(({ name, place }) => [name, placeInWords(place)])
        const head = [printable(`${scheme.title} (${scheme.id})`), printable(scheme.notes), '']
        return reply({ scheme }, [...head, table(['name', 'is for'], rows)].join('\n'))
      }),
    )
}
