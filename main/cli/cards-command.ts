import type { Command } from 'commander'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { inUnits } from '../../app/model/in-units.ts'
import { registerDrives } from './drives-commands.ts'
import { fontTitle } from '../../app/usecases/find-font.ts'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import { reply } from './reply.ts'
import type { Session } from './session.ts'
import { counted, table } from './table.ts'

/** `cards`: every content that was made, how two differ, and the drives that cards are in. */
export function registerCards(program: Command, session: Session): void {
  const cards = program
    .command('cards')
    .description('what was made for cards, and the drives that cards are in')
  cards
    .command('list')
    .description('every content that was made and verified, newest first')
    .addHelpText('after', examples('cards list'))
    .action(() =>
      session.withCore(async (ask) => {
        const list = await ask('contents:list', {})
        return reply(list, listText(list))
      }),
    )
  cards
    .command('show')
    .description('everything on record of one content')
    .argument('<content>', 'its fingerprint, or a build: then the newest made for it')
    .addHelpText('after', examples('cards show 7Q2M4K9XZA', 'cards show EX-101'))
    .action((content: string) =>
      session.withCore(async (ask) => {
        const shown = await ask('contents:show', { content })
        return reply(shown, shownText(shown))
      }),
    )
  cards
    .command('diff')
    .description('how one content differs from another')
    .argument('<a>', 'a fingerprint or build')
    .argument('<b>', 'another')
    .addHelpText('after', examples('cards diff 7Q2M4K9XZA EX-101'))
    .action((a: string, b: string) =>
      session.withCore(async (ask) => {
        const diff = await ask('contents:diff', { a, b })
        return reply(diff, diffText(diff))
      }),
    )
  registerDrives(cards, session)
}

function shownText(shown: ResponseOf<'contents:show'>): string {
  const accepted = shown.acceptedFindings.map(({ rule, path, reason }) =>
    printable(`Accepted     ${rule}${path === null ? '' : `:${path}`} (${reason})`),
  )
  const singleSounds = shown.singleSounds.map((single) => printable(singleInWords(single, shown)))
  const changed = shown.ruleChanges.map(({ rule, severity, reason }) =>
    printable(
      `Rule         ${rule} ${severity === 'off' ? 'switched off' : `weighed as ${severity}`} by the build (${reason})`,
    ),
  )
  return [
    `Fingerprint  ${shown.fingerprint}`,
    `Made         ${shown.createdAt} with Cardwright ${shown.toolVersion}`,
    `Board        ${shown.board}`,
    ...shown.builds.map((code) => printable(`Build        ${code}`)),
    `Image        ${inUnits(shown.imageBytes)}, ${shown.fileSystem.toUpperCase()}, clusters of ${inUnits(shown.clusterBytes)}`,
    `Image hash   ${shown.imageHash}`,
    ...(shown.config === null
      ? []
      : [printable(`Config       ${shown.config.fileName}, ${shown.config.text.length} characters`)]),
    ...(shown.recipes.length === 0
      ? []
      : [`Prepared     ${counted(shown.recipes.length, 'sound')}; --json has how each was made`]),
    ...singleSounds,
    ...accepted,
    ...changed,
    '',
    table(
      ['number', 'folder', 'font', 'version', 'creator', 'size'],
      shown.fonts.map((font) => [
        font.slot,
        font.folder,
        font.font,
        font.version === '' ? null : font.version,
        font.creator,
        inUnits(font.sizeBytes),
      ]),
    ),
    '',
    table(
      ['file', 'bytes', 'SHA-256'],
      shown.files.map((file) => [file.path, file.sizeBytes, file.sha256]),
    ),
  ].join('\n')
}

function singleInWords(
  single: ResponseOf<'contents:show'>['singleSounds'][number],
  { fonts, lenders }: ResponseOf<'contents:show'>,
): string {
  const titles = new Map(
    [...fonts, ...lenders].map(({ editionId, font, version }) => [editionId, fontTitle(font, version)]),
  )
  const titleOf = (editionId: string): string => titles.get(editionId) ?? editionId
  const font = titleOf(single.editionId)
  if (single.kind === 'left-out') return `Left out     ${single.path} of ${font}`
  const lent = `${single.sound.path} of ${titleOf(single.sound.editionId)}`
  return single.kind === 'added'
    ? `Added        ${lent} to ${font}`
    : `Replaced     ${single.path} of ${font} by ${lent}`
}

function diffText(diff: ResponseOf<'contents:diff'>): string {
  const lines = [
    ...(diff.isSameBoard ? [] : ['made for different boards, or the board was described otherwise']),
    ...(diff.isSameGeometry ? [] : ['of different size or layout']),
    ...diff.fontsOnlyInA.map((font) => `only in ${diff.a}: font ${font.slot}, ${font.font}`),
    ...diff.fontsOnlyInB.map((font) => `only in ${diff.b}: font ${font.slot}, ${font.font}`),
    ...diff.fontsMoved.map((font) => `${font.font} is number ${font.slotInA} and number ${font.slotInB}`),
    ...diff.filesOnlyInA.map((path) => `only in ${diff.a}: ${path}`),
    ...diff.filesOnlyInB.map((path) => `only in ${diff.b}: ${path}`),
    ...diff.filesChanged.map((path) => `changed: ${path}`),
    ...diff.filesMoved.map(({ from, to }) => `moved: ${from} to ${to}`),
  ]
  const same = `${counted(diff.filesSame, 'file')} the same in both`
  return [...lines, lines.length === 0 ? `No difference: ${same}.` : `${same}.`].map(printable).join('\n')
}

function listText({ contents }: ResponseOf<'contents:list'>): string {
  if (contents.length === 0) return 'No card was made yet.'
  return table(
    ['fingerprint', 'made', 'board', 'build', 'image', 'fonts'],
    contents.map((content) => [
      content.fingerprint,
      content.createdAt,
      content.board,
      content.builds.join(', '),
      inUnits(content.imageBytes),
      content.fonts.join(', '),
    ]),
  )
}
