import type { Command } from 'commander'
import { verdictWords } from '../../app/boards/verdict-words.ts'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { inUnits } from '../../app/model/in-units.ts'
import { fontTitle } from '../../app/usecases/find-font.ts'
import { fontsOf } from './chosen-fonts.ts'
import { creatorOf } from './creators-command.ts'
import { examples } from './examples.ts'
import { findingLines } from './finding-lines.ts'
import { registerOriginals } from './originals-commands.ts'
import { printable } from './printable.ts'
import { reply } from './reply.ts'
import type { Session } from './session.ts'
import { counted, table } from './table.ts'

interface SetOptions {
  readonly name?: string
  readonly fontVersion?: string
  readonly creator?: string
}

/** `fonts`: the library, one font, corrections, sounds that are there twice, kept originals. */
export function registerFonts(program: Command, session: Session): void {
  const listDuplicates = () =>
    session.withCore(async (ask) => {
      const found = await ask('fonts:duplicates', {})
      return reply(found, duplicatesText(found))
    })
  const fonts = program
    .command('fonts')
    .description('the fonts of the library')
    .option('--duplicates', 'sounds that are the same, as `fonts duplicates` lists them')
  // Acts only where the option is given: with an action always there, a misspelt command under
  // `fonts` would be taken for an argument, and nothing proposed for it.
  fonts.on('option:duplicates', () => fonts.action(listDuplicates))
  fonts
    .command('list')
    .description('all fonts, with their verdicts where a board is named')
    .option('-b, --board <board>', 'id of the board to judge them for')
    .addHelpText('after', examples('fonts list', 'fonts list --board bench-44'))
    .action((options: { board?: string }) =>
      session.withCore(async (ask) => {
        const list = await ask('fonts:list', options.board === undefined ? {} : { boardId: options.board })
        return reply(list, listText(list))
      }),
    )
  fonts
    .command('show')
    .description('one font: where it lies, its licences, and what a board would find')
    .argument('<font>', 'name or id')
    .option('-b, --board <board>', 'id of the board to judge it for')
    .addHelpText('after', examples('fonts show "Harbour Bell" --board bench-44'))
    .action((word: string, options: { board?: string }) =>
      session.withCore(async (ask) => {
        const [font] = await fontsOf(ask, [word])
        const shown = await ask('fonts:show', {
          editionId: font?.id ?? word,
          ...(options.board === undefined ? {} : { boardId: options.board }),
        })
        return reply(shown, showText(shown))
      }),
    )
  fonts
    .command('duplicates')
    .description('sounds that are the same, whatever their names and headers')
    .addHelpText('after', examples('fonts duplicates'))
    .action(listDuplicates)
  fonts
    .command('set')
    .description("correct a font's name, version or creator")
    .argument('<font>', 'name or id')
    .option('--name <name>', 'its name')
    .option('--font-version <version>', 'its version; empty where it has none')
    .option('--creator <creator>', 'name or id of a recorded creator; empty for none')
    .addHelpText('after', examples('fonts set "Harbour Bell" --creator Varnisk --font-version 1.2'))
    .action((word: string, options: SetOptions) =>
      session.withCore(async (ask) => {
        const [font] = await fontsOf(ask, [word])
        const creatorId =
          options.creator === undefined
            ? undefined
            : options.creator === ''
              ? null
              : (await creatorOf(ask, options.creator)).id
        const { edition } = await ask('fonts:set', {
          editionId: font?.id ?? word,
          ...(options.name === undefined ? {} : { name: options.name }),
          ...(options.fontVersion === undefined ? {} : { version: options.fontVersion }),
          ...(creatorId === undefined ? {} : { creatorId }),
        })
        return reply(
          { edition },
          printable(
            `${fontTitle(edition.font.name, edition.version)}, creator ${edition.font.creatorName ?? 'not recorded'}`,
          ),
        )
      }),
    )
  registerOriginals(fonts, session)
}

function listText(list: ResponseOf<'fonts:list'>): string {
  if (list.fonts.length === 0) return 'The library is empty; `cardwright scan DIR` fills it.'
  const withVerdict = list.board !== null
  return table(
    [
      'font',
      'version',
      'creator',
      ...(withVerdict ? [`for ${list.board}`] : []),
      'sounds',
      'size',
      'licences',
    ],
    list.fonts.map((row) => [
      row.state === 'gone' ? `${row.font.name} (gone)` : row.font.name,
      row.version === '' ? null : row.version,
      row.font.creatorName ??
        (row.font.proposedCreatorName === null ? null : `${row.font.proposedCreatorName}?`),
      ...(withVerdict ? [row.verdict === null ? null : verdictWords(row.verdict, row.preparedVerdict)] : []),
      row.soundCount,
      inUnits(row.sizeBytes),
      row.licenceCount,
    ]),
  )
}

function duplicatesText({ groups }: ResponseOf<'fonts:duplicates'>): string {
  if (groups.length === 0) return 'No sound is there twice.'
  return table(
    ['same as', 'font', 'sound', 'size'],
    groups.flatMap(({ sounds }, group) =>
      sounds.map((sound) => [
        `#${group + 1}`,
        fontTitle(sound.font, sound.version),
        sound.path,
        inUnits(sound.sizeBytes),
      ]),
    ),
  )
}

function showText(shown: ResponseOf<'fonts:show'>): string {
  const { edition, board, verdict, preparedVerdict, findings, licences } = shown
  const { font } = edition
  const lines = [
    printable(fontTitle(font.name, edition.version)),
    `  id        ${edition.id}`,
    printable(
      `  creator   ${font.creatorName ?? (font.proposedCreatorName === null ? 'not recorded' : `${font.proposedCreatorName} (proposed; set it with \`fonts set\`)`)}`,
    ),
    ...edition.places.map((place) =>
      printable(
        `  ${place.state === 'gone' ? 'gone from' : 'lies in  '} ${place.path}${place.innerPath === null ? '' : ` in ${place.innerPath === '' ? 'the archive' : place.innerPath}`}`,
      ),
    ),
    `  holds     ${counted(edition.soundCount, 'sound')}, ${counted(edition.companionCount, 'companion')}, ${counted(edition.litter.length, 'file')} of litter, ${inUnits(edition.sizeBytes)}`,
    `  names     ${edition.schemeId ?? 'not recognised'}`,
    ...(licences.length === 0
      ? ['  licence   none on record']
      : licences.map((licence) =>
          printable(
            `  licence   ${licence.kind}${licence.grantedOn === '' ? '' : ` on ${licence.grantedOn}`}, held by ${licence.holder === '' ? 'nobody named' : licence.holder}${licence.terms === '' ? '' : `: ${licence.terms}`}`,
          ),
        )),
  ]
  if (board !== null && verdict !== null) {
    lines.push('', `For ${board}: ${verdictWords(verdict, preparedVerdict)}`)
    if (preparedVerdict !== null) {
      const isQuiet = preparedVerdict.errorCount + preparedVerdict.warningCount === 0
      if (!isQuiet) lines.push('What is still so of them: `check FONT --prepared`.')
      lines.push('Of its originals:')
    }
    lines.push(...findings.flatMap(findingLines))
  }
  return lines.join('\n')
}
