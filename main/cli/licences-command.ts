import { Option, type Command } from 'commander'
import { AppError } from '../../app/errors/app-error.ts'
import {
  CONVERSION_ANSWERS,
  LICENCE_KINDS,
  type ConversionAllowed,
  type Licence,
  type LicenceKind,
} from '../../app/model/records.ts'
import { fontsOf } from './chosen-fonts.ts'
import { examples } from './examples.ts'
import { keptLines } from './kept-lines.ts'
import { printable } from './printable.ts'
import { reply } from './reply.ts'
import type { Ask, Session } from './session.ts'
import { table } from './table.ts'

interface LicenceOptions {
  readonly font?: string
  readonly holder?: string
  readonly kind?: LicenceKind
  readonly on?: string
  readonly order?: string
  readonly terms?: string
  readonly conversion?: ConversionAllowed
  readonly note?: string
}

const NOT_ADVICE = 'A record, not legal advice. Music and voices may need rights beyond a font’s licence.'

/** `licences`: under which terms each font may be used. */
export function registerLicences(program: Command, session: Session): void {
  const licences = program
    .command('licences')
    .description(`under which terms each font may be used. ${NOT_ADVICE}`)
  licences
    .command('list')
    .description('all licences, or those of one font')
    .option('--font <font>', 'name or id of a font')
    .addHelpText('after', examples('licences list', 'licences list --font "Harbour Bell"'))
    .action((options: { font?: string }) =>
      session.withCore(async (ask) => {
        const list = await ask(
          'licences:list',
          options.font === undefined ? {} : { fontId: await fontIdOf(ask, options.font) },
        )
        const rows = list.licences.map((licence) => [
          licence.fontName,
          licence.kind,
          licence.holder,
          licence.grantedOn,
          licence.orderReference,
          licence.terms,
          licence.conversionAllowed,
          licence.id,
        ])
        return reply(
          list,
          rows.length === 0
            ? 'No licence is recorded yet.'
            : table(['font', 'kind', 'holder', 'granted on', 'order', 'terms', 'conversion', 'id'], rows),
        )
      }),
    )
  withLicenceFields(licences.command('add').description('record a licence of a font'))
    .argument('<font>', 'name or id')
    .addHelpText(
      'after',
      examples(
        'licences add "Harbour Bell" --kind bought --holder "My bench" --on 2026-04-30 --terms "One build" --conversion yes',
      ),
    )
    .action((word: string, options: LicenceOptions) =>
      session.withCore(async (ask) => {
        const added = await ask('licences:add', {
          fontId: await fontIdOf(ask, word),
          holder: options.holder ?? '',
          kind: options.kind ?? 'bought',
          grantedOn: options.on ?? '',
          orderReference: options.order ?? '',
          terms: options.terms ?? '',
          conversionAllowed: options.conversion ?? 'unknown',
          note: options.note ?? '',
        })
        return reply(added, [licenceText(added.licence), ...keptLines(added.kept)].join('\n'))
      }),
    )
  licences
    .command('show')
    .description('one licence')
    .argument('<id>')
    .addHelpText('after', examples('licences show 0199a3f0-5c1e-7c55-9d0e-7f3a52b4c001'))
    .action((id: string) =>
      session.withCore(async (ask) => {
        const licence = await licenceOf(ask, id)
        return reply({ licence }, licenceText(licence))
      }),
    )
  withLicenceFields(licences.command('set').description('correct what is recorded of a licence'))
    .argument('<id>')
    .option('--font <font>', 'the font it is for')
    .addHelpText(
      'after',
      examples(
        'licences set 0199a3f0-5c1e-7c55-9d0e-7f3a52b4c001 --order EX-7',
        'licences set 0199a3f0-5c1e-7c55-9d0e-7f3a52b4c001 --conversion no',
      ),
    )
    .action((id: string, options: LicenceOptions) =>
      session.withCore(async (ask) => {
        await licenceOf(ask, id)
        const changed = await ask('licences:change', {
          id,
          change: {
            ...(options.font === undefined ? {} : { fontId: await fontIdOf(ask, options.font) }),
            ...(options.holder === undefined ? {} : { holder: options.holder }),
            ...(options.kind === undefined ? {} : { kind: options.kind }),
            ...(options.on === undefined ? {} : { grantedOn: options.on }),
            ...(options.order === undefined ? {} : { orderReference: options.order }),
            ...(options.terms === undefined ? {} : { terms: options.terms }),
            ...(options.conversion === undefined ? {} : { conversionAllowed: options.conversion }),
            ...(options.note === undefined ? {} : { note: options.note }),
          },
        })
        return reply(changed, [licenceText(changed.licence), ...keptLines(changed.kept)].join('\n'))
      }),
    )
  licences
    .command('remove')
    .description('remove a licence that was recorded by mistake')
    .argument('<id>')
    .addHelpText('after', examples('licences remove 0199a3f0-5c1e-7c55-9d0e-7f3a52b4c001'))
    .action((id: string) =>
      session.withCore(async (ask) => {
        const { fontName } = await licenceOf(ask, id)
        const removed = await ask('licences:remove', { id })
        return reply(removed, printable(`Removed a licence of ${fontName}.`))
      }),
    )
}

function withLicenceFields(command: Command): Command {
  return command
    .addOption(new Option('--kind <kind>', 'how it was granted (bought unless told)').choices(LICENCE_KINDS))
    .option('--holder <name>', 'in whose name it stands')
    .option('--on <date>', 'day of the grant, as 2026-04-30')
    .option('--order <reference>', 'order reference')
    .option('--terms <text>', 'what it allows')
    .addOption(
      new Option(
        '--conversion <answer>',
        'whether its creator allows sounds to be converted (unknown unless told)',
      ).choices(CONVERSION_ANSWERS),
    )
    .option('--note <text>', 'anything worth knowing')
}

async function fontIdOf(ask: Ask, word: string): Promise<string> {
  const [edition] = await fontsOf(ask, [word])
  return edition?.font.id ?? word
}

async function licenceOf(ask: Ask, id: string): Promise<Licence> {
  const { licences } = await ask('licences:list', {})
  const found = licences.find((licence) => licence.id === id)
  if (found !== undefined) return found
  throw new AppError({
    code: 'licence/unknown',
    what: 'No licence of this id is recorded.',
    where: id,
    mend: '`licences list` shows all ids.',
  })
}

function licenceText(licence: Licence): string {
  return [
    `Licence of ${licence.fontName}`,
    `  id          ${licence.id}`,
    `  kind        ${licence.kind}`,
    `  holder      ${licence.holder === '' ? '–' : licence.holder}`,
    `  granted     ${licence.grantedOn === '' ? '–' : licence.grantedOn}`,
    `  order       ${licence.orderReference === '' ? '–' : licence.orderReference}`,
    `  terms       ${licence.terms === '' ? '–' : licence.terms}`,
    `  conversion  ${licence.conversionAllowed}`,
    `  note        ${licence.note === '' ? '–' : licence.note}`,
  ]
    .map(printable)
    .concat(NOT_ADVICE)
    .join('\n')
}
