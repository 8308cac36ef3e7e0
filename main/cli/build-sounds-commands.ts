import type { Command } from 'commander'
import type { RequestOf, ResponseOf } from '../../app/contract/calls.ts'
import { placeInWords } from '../../app/boards/place-words.ts'
import type { Build } from '../../app/model/records.ts'
import { findFont, fontTitle } from '../../app/usecases/find-font.ts'
import { examples } from './examples.ts'
import { keptLines } from './kept-lines.ts'
import { printable } from './printable.ts'
import { reply, type Reply } from './reply.ts'
import { toldRole } from './roles-command.ts'
import type { Ask, Session } from './session.ts'
import { table } from './table.ts'

type Change = RequestOf<'builds:sounds'>['change']

/** Finds a build by its code. @throws AppError `build/unknown` */
type FindBuild = (ask: Ask, code: string) => Promise<Build>

/** `builds sounds …` and `builds configs`: in what a build plays otherwise than its fonts as they came. */
export function registerBuildSounds(builds: Command, findBuild: FindBuild, session: Session): void {
  const sounds = builds
    .command('sounds')
    .description('single sounds of a build: added, in the place of another, or left out')
    // Its commands take so many words that no room would be left to say what they do.
    .configureHelp({ showGlobalOptions: true, subcommandTerm: (command) => command.name() })
    .helpCommand(false)
    .addHelpText('after', examples('builds sounds list EX-101'))
  const changing = (code: string, changeOf: (ask: Ask, build: Build) => Promise<Change>): Promise<void> =>
    session.withCore(async (ask): Promise<Reply> => {
      const build = await findBuild(ask, code)
      const done = await ask('builds:sounds', { id: build.id, change: await changeOf(ask, build) })
      return {
        document: done,
        text: [await soundsText(ask, done.build), ...keptLines(done.kept)].join('\n'),
        holds: done.kept.problems.length === 0,
      }
    })
  sounds
    .command('list')
    .description('in which sounds the build plays otherwise than its fonts as they came')
    .argument('<code>', 'of the build')
    .addHelpText('after', examples('builds sounds list EX-101'))
    .action((code: string) =>
      session.withCore(async (ask) => {
        const build = await findBuild(ask, code)
        return reply({ build }, await soundsText(ask, build))
      }),
    )
  sounds
    .command('add')
    .description('add a sound of another font to a font of the build')
    .argument('<code>', 'of the build')
    .argument('<font>', 'the font of the build that gets it')
    .argument('<other>', 'the font that lends it')
    .argument('<sound>', 'its path there')
    .option('--as <role>', 'what it is for, such as clash or lockup/begin; otherwise as where it comes from')
    .addHelpText('after', examples('builds sounds add EX-101 "Ember Loom" "Harbour Bell" clash-02.wav'))
    .action((code: string, font: string, other: string, path: string, options: { as?: string }) =>
      changing(code, async (ask, build) => {
        const place = options.as === undefined ? null : toldRole(`sound=${options.as}`).place
        return {
          act: 'add',
          editionId: await inBuild(ask, build, font),
          sound: { editionId: await inLibrary(ask, other), path },
          ...(place === null ? {} : { place }),
        }
      }),
    )
  sounds
    .command('replace')
    .description('play a sound of another font in the place of one of the build')
    .argument('<code>', 'of the build')
    .argument('<font>', 'a font of the build')
    .argument('<sound>', 'the path in it of what is replaced')
    .argument('<other>', 'the font that lends a sound')
    .argument('<other-sound>', 'its path there')
    .addHelpText(
      'after',
      examples('builds sounds replace EX-101 "Ember Loom" boot.wav "Harbour Bell" boot.wav'),
    )
    .action((code: string, font: string, path: string, other: string, otherPath: string) =>
      changing(code, async (ask, build) => ({
        act: 'replace',
        editionId: await inBuild(ask, build, font),
        path,
        sound: { editionId: await inLibrary(ask, other), path: otherPath },
      })),
    )
  onOneSound('leave-out', 'leave a sound of a font out of the build')
  onOneSound('take-back', 'take back what the build says of a sound')
  builds
    .command('configs')
    .description('the configs that a build had, newest first, and the contents that carry each')
    .argument('<code>', 'of the build')
    .option('--show <number>', 'the text of one version')
    .addHelpText('after', examples('builds configs EX-101', 'builds configs EX-101 --show 2'))
    .action((code: string, options: { show?: string }) =>
      session.withCore(async (ask) => {
        const { id } = await findBuild(ask, code)
        const listed = await ask('builds:configs', { id })
        if (options.show === undefined) return reply(listed, configsText(listed))
        const version = listed.versions.find(({ number }) => String(number) === options.show)
        const text = version?.text ?? `There is no version ${printable(options.show)}.`
        return { document: listed, text, holds: version !== undefined, unusable: version === undefined }
      }),
    )

  function onOneSound(act: 'leave-out' | 'take-back', description: string): void {
    sounds
      .command(act)
      .description(description)
      .argument('<code>', 'of the build')
      .argument('<font>', 'a font of the build')
      .argument('<sound>', 'its path in the font')
      .addHelpText('after', examples(`builds sounds ${act} EX-101 "Ember Loom" melt.wav`))
      .action((code: string, font: string, path: string) =>
        changing(code, async (ask, build) => ({
          act,
          editionId: await inBuild(ask, build, font),
          path,
        })),
      )
  }
}

/** A font of the build by the user's words; where the library has several of a name, the build's own. */
async function inBuild(ask: Ask, build: Build, word: string): Promise<string> {
  const { fonts } = await ask('fonts:list', {})
  const known = new Set([...build.fontEditionIds, ...build.singleSounds.map(({ editionId }) => editionId)])
  return findFont(
    word,
    fonts.filter(({ id }) => known.has(id)),
  ).id
}

async function inLibrary(ask: Ask, word: string): Promise<string> {
  const { fonts } = await ask('fonts:list', {})
  return findFont(word, fonts).id
}

async function soundsText(ask: Ask, build: Build): Promise<string> {
  if (build.singleSounds.length === 0) return 'The fonts play as they came.'
  const { fonts } = await ask('fonts:list', {})
  const titles = new Map(fonts.map(({ id, font, version }) => [id, fontTitle(font.name, version)]))
  const titleOf = (id: string): string => titles.get(id) ?? id
  return table(
    ['font', 'sound', 'is', 'by', 'as'],
    build.singleSounds.map((single) => [
      `${titleOf(single.editionId)}${build.fontEditionIds.includes(single.editionId) ? '' : ' (not in the build)'}`,
      single.kind === 'added' ? single.sound.path : single.path,
      single.kind === 'left-out' ? 'left out' : single.kind,
      single.kind === 'left-out'
        ? null
        : single.kind === 'added'
          ? titleOf(single.sound.editionId)
          : `${titleOf(single.sound.editionId)}, ${single.sound.path}`,
      single.kind === 'added' && single.place !== null ? placeInWords(single.place) : null,
    ]),
  )
}

function configsText({ build, versions }: ResponseOf<'builds:configs'>): string {
  if (versions.length === 0) return printable(`The build ${build} never had a config on record.`)
  return table(
    ['version', 'recorded', 'file', 'characters', 'contents', ''],
    versions.map(({ number, recordedAt, fileName, text, contents, isCurrent }) => [
      number,
      recordedAt,
      fileName,
      text.length,
      contents.length === 0 ? null : contents.join(', '),
      isCurrent ? "the build's now" : '',
    ]),
  )
}
