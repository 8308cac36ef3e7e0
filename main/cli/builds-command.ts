import type { Command } from 'commander'
import { readFile, stat } from 'node:fs/promises'
import { basename } from 'node:path'
import { nearestWord } from '../../app/boards/edit-distance.ts'
import { AppError } from '../../app/errors/app-error.ts'
import type { Build } from '../../app/model/records.ts'
import { fontTitle } from '../../app/usecases/find-font.ts'
import { registerBuildSounds } from './build-sounds-commands.ts'
import { fontsOf } from './chosen-fonts.ts'
import { examples } from './examples.ts'
import { readLowLimit, type LowLimit } from './low-limit-option.ts'
import { keptLines } from './kept-lines.ts'
import { printable } from './printable.ts'
import { reply } from './reply.ts'
import { changedRules, withRuleChanges, type RuleOptions } from './rule-changes-option.ts'
import type { Ask, Session } from './session.ts'
import { table } from './table.ts'

interface BuildOptions extends RuleOptions {
  readonly code?: string
  readonly board?: string
  readonly client?: string
  readonly speaker?: string
  readonly lowLimit?: LowLimit
  readonly font?: readonly string[]
  readonly config?: string
  readonly note?: string
}

/** `builds`: the hilts on the bench, with board, speaker, fonts in order, config and single sounds. */
export function registerBuilds(program: Command, session: Session): void {
  const builds = program
    .command('builds')
    .description('the hilts on the bench: board, speaker, fonts in order')
  builds
    .command('list')
    .description('all builds')
    .addHelpText('after', examples('builds list'))
    .action(() =>
      session.withCore(async (ask) => {
        const list = await ask('builds:list', {})
        const names = await fontNames(ask)
        const rows = list.builds.map((build) => [
          build.code,
          build.clientLabel,
          build.boardId,
          build.fontEditionIds.map((id) => names.get(id) ?? id).join(', '),
        ])
        return reply(
          list,
          rows.length === 0
            ? 'No build is recorded yet.'
            : table(['build', 'client', 'board', 'fonts in order'], rows),
        )
      }),
    )
  withBuildFields(builds.command('add').description('record a build'))
    .argument('<code>', 'a short code of your own')
    .addHelpText(
      'after',
      examples(
        'builds add EX-104 --board bench-44 --client "Client C" --font "Harbour Bell" --font "Ember Loom" --low-limit 220',
      ),
    )
    .action((code: string, options: BuildOptions) =>
      session.withCore(async (ask) => {
        const added = await ask('builds:add', {
          code,
          boardId: options.board ?? (await ask('workshop:status', {})).defaultBoardId,
          clientLabel: '',
          speaker: '',
          speakerLowLimitHz: null,
          fontEditionIds: [],
          config: null,
          ruleChanges: [],
          note: '',
          ...(await fieldsOf(ask, options, session, [])),
        })
        return reply(added, [await buildText(ask, added.build), ...keptLines(added.kept)].join('\n'))
      }),
    )
  builds
    .command('show')
    .description('one build')
    .argument('<code>')
    .addHelpText('after', examples('builds show EX-101'))
    .action((code: string) =>
      session.withCore(async (ask) => {
        const build = await buildOf(ask, code)
        return reply({ build }, await buildText(ask, build))
      }),
    )
  withBuildFields(builds.command('set').description('change what is recorded of a build'))
    .argument('<code>')
    .option('--code <code>', 'another code')
    .addHelpText(
      'after',
      examples(
        'builds set EX-101 --font "Ember Loom" --font "Harbour Bell"',
        'builds set EX-101 --rule true-peak=off --reason "its amplifier has room"',
      ),
    )
    .action((code: string, options: BuildOptions) =>
      session.withCore(async (ask) => {
        const { id, ruleChanges } = await buildOf(ask, code)
        const change = await fieldsOf(ask, options, session, ruleChanges)
        const changed = await ask('builds:change', { id, change })
        return reply(changed, [await buildText(ask, changed.build), ...keptLines(changed.kept)].join('\n'))
      }),
    )
  registerBuildSounds(builds, buildOf, session)
}

function withBuildFields(command: Command): Command {
  return withRuleChanges(command)
    .option('-b, --board <board>', 'id of its board')
    .option('--client <label>', 'how you call the client')
    .option('--speaker <text>', 'its speaker')
    .option(
      '--low-limit <hz>',
      'lowest frequency the speaker gives, in Hz; empty where unknown',
      readLowLimit,
    )
    .option(
      '--font <font>',
      'a font by name or id; repeat it in play order, it replaces the earlier list',
      (value: string, earlier: readonly string[] | undefined) => [...(earlier ?? []), value],
    )
    .option('--config <file>', "the board's config file; empty for none")
    .option('--note <text>', 'anything worth knowing')
}

async function fieldsOf(
  ask: Ask,
  options: BuildOptions,
  session: Session,
  ruleChangesBefore: Build['ruleChanges'],
) {
  const ruleChanges = changedRules(ruleChangesBefore, options)
  const fonts = options.font === undefined ? undefined : await fontsOf(ask, options.font)
  const config = options.config === undefined ? undefined : await readConfig(options.config, session)
  return {
    ...(options.code === undefined ? {} : { code: options.code }),
    ...(options.board === undefined ? {} : { boardId: options.board }),
    ...(options.client === undefined ? {} : { clientLabel: options.client }),
    ...(options.speaker === undefined ? {} : { speaker: options.speaker }),
    ...(options.lowLimit === undefined ? {} : { speakerLowLimitHz: options.lowLimit.hz }),
    ...(fonts === undefined ? {} : { fontEditionIds: fonts.map((font) => font.id) }),
    ...(config === undefined ? {} : { config }),
    ...(ruleChanges === undefined ? {} : { ruleChanges }),
    ...(options.note === undefined ? {} : { note: options.note }),
  }
}

const LARGEST_CONFIG_BYTES = 1_000_000

/** A config file as text, kept with the name it has on the card; null for an empty path. */
async function readConfig(file: string, session: Session) {
  if (file === '') return null
  const path = session.resolvePath(file)
  const unfit = (code: string, what: string, mend: string, cause?: unknown) =>
    new AppError({ code, what, where: path, mend }, { cause })
  try {
    const facts = await stat(path)
    if (!facts.isFile()) throw unfit('config/no-file', 'It is no file.', 'Name the config file itself.')
    if (facts.size > LARGEST_CONFIG_BYTES) {
      throw unfit('config/too-large', 'A config file has at most 1 MB.', 'Choose the right file.')
    }
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(await readFile(path))
    return { fileName: basename(path), text }
  } catch (error) {
    if (error instanceof AppError) throw error
    throw error instanceof TypeError
      ? unfit('config/no-text', 'It is not UTF-8 text.', 'Save it as UTF-8 and try again.', error)
      : unfit(
          'config/unreadable',
          'It cannot be read.',
          'Check that it exists and that you may read it.',
          error,
        )
  }
}

async function buildOf(ask: Ask, code: string): Promise<Build> {
  const { builds } = await ask('builds:list', {})
  const wanted = code.trim().toLowerCase()
  const found = builds.find((build) => build.id === code || build.code.toLowerCase() === wanted)
  if (found !== undefined) return found
  const nearest = nearestWord(
    code,
    builds.map((build) => build.code),
  )
  throw new AppError({
    code: 'build/unknown',
    what: 'No build of this code is recorded.',
    where: code,
    mend: nearest === null ? 'Add one with `builds add CODE`.' : `Did you mean "${nearest}"?`,
  })
}

async function fontNames(ask: Ask): Promise<ReadonlyMap<string, string>> {
  const { fonts } = await ask('fonts:list', {})
  return new Map(fonts.map((font) => [font.id, fontTitle(font.font.name, font.version)]))
}

/** A rule that a build changes, in one line. */
function ruleChangeLine({ rule, severity, reason }: Build['ruleChanges'][number]): string {
  const told = severity === 'off' ? 'switched off' : `weighed as ${severity}`
  return `  rule     ${rule} ${told}: ${reason}`
}

async function buildText(ask: Ask, build: Build): Promise<string> {
  const names = await fontNames(ask)
  return [
    `Build ${build.code}`,
    `  client   ${build.clientLabel === '' ? '–' : build.clientLabel}`,
    `  board    ${build.boardId}`,
    `  speaker  ${build.speaker === '' ? '–' : build.speaker}${build.speakerLowLimitHz === null ? '' : `, from ${build.speakerLowLimitHz} Hz up`}`,
    `  config   ${build.config === null ? 'none recorded' : `${build.config.fileName}, ${build.config.text.length} characters`}`,
    `  note     ${build.note === '' ? '–' : build.note}`,
    ...build.ruleChanges.map(ruleChangeLine),
    ...(build.fontEditionIds.length === 0 ? ['  fonts    none yet'] : []),
    ...build.fontEditionIds.map((id, index) => `  font ${index + 1}   ${names.get(id) ?? id}`),
    ...(build.singleSounds.length === 0
      ? []
      : [
          `  sounds   ${build.singleSounds.length} otherwise than in the fonts: \`builds sounds list ${build.code}\``,
        ]),
  ]
    .map(printable)
    .join('\n')
}
