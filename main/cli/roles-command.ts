import { Option, type Command } from 'commander'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { placeInWords } from '../../app/boards/place-words.ts'
import { LAYERS, PARTS, ROLES } from '../../app/model/role.ts'
import type { Layer, Part, Role, SoundPlace } from '../../app/model/role.ts'
import { AppError } from '../../app/errors/app-error.ts'
import { nearestWord } from '../../app/boards/edit-distance.ts'
import { fontTitle } from '../../app/usecases/find-font.ts'
import { fontsOf } from './chosen-fonts.ts'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import type { Ask, Session } from './session.ts'
import { counted, table } from './table.ts'

type Roles = ResponseOf<'roles:show'>

interface RolesOptions {
  readonly confirm?: boolean
  readonly set?: readonly string[]
  readonly forget?: boolean
  readonly keepScheme?: string
  readonly title?: string
}

/** `roles`: what each sound of a font is for. Holds where no guess is open. */
export function registerRoles(program: Command, session: Session): void {
  program
    .command('roles')
    .description('what each sound of a font is for; guesses where nobody knows')
    .argument('<font>', 'name or id')
    .option('--confirm', 'take every confident guess')
    .option(
      '--set <sound=role...>',
      'tell a role: clash.wav=clash:2, ring.wav=swing/low:1, a.wav=lockup/begin, b.wav=none',
    )
    .addOption(
      new Option('--forget', 'take back what was told; names are read again').conflicts(['confirm', 'set']),
    )
    .option('--keep-scheme <id>', 'make a scheme of the workshop from the roles as they are then')
    .option('--title <title>', 'title of that scheme')
    .addHelpText(
      'after',
      examples(
        'roles "North Yard"',
        'roles "North Yard" --confirm --keep-scheme north',
        'roles "North Yard" --set thud.wav=clash:3',
      ),
    )
    .action((word: string, options: RolesOptions) =>
      session.withCore(async (ask) => {
        const [font] = await fontsOf(ask, [word])
        const editionId = font?.id ?? word
        const roles = await changed(ask, editionId, options)
        const document = { ...roles, scheme: null as ResponseOf<'roles:keep-scheme'> | null }
        const text = [rolesText(roles)]
        if (options.keepScheme !== undefined) {
          const title = options.title ?? `Names of ${roles.font}`
          const kept = await ask('roles:keep-scheme', { editionId, schemeId: options.keepScheme, title })
          document.scheme = kept
          text.push(printable(`Kept as the scheme ${kept.scheme.id}: ${kept.path}`))
        }
        return { document, text: text.join('\n'), holds: roles.askCount + roles.confidentCount === 0 }
      }),
    )
}

async function changed(ask: Ask, editionId: string, options: RolesOptions): Promise<Roles> {
  if (options.forget === true) return ask('roles:forget', { editionId })
  const told = (options.set ?? []).map(toldRole)
  const before = await ask('roles:show', { editionId })
  const byHand = new Set(told.map(({ path }) => path))
  const confirmed =
    options.confirm === true
      ? before.sounds.flatMap(({ path, guess }) =>
          guess?.isConfident === true && guess.place !== null && !byHand.has(path)
            ? [{ path, place: guess.place }]
            : [],
        )
      : []
  const changes = [...told, ...confirmed]
  return changes.length === 0 ? before : ask('roles:set', { editionId, changes })
}

/** `path=role`, with `/part` or `/layer` and `:number` where they are meant. @throws AppError `usage` */
export function toldRole(word: string): { path: string; place: SoundPlace | null } {
  const equals = word.lastIndexOf('=')
  const path = word.slice(0, Math.max(0, equals))
  const spelled = /^([a-z-]+)(?:\/([a-z]+))?(?::([0-9]{1,6}))?$/.exec(word.slice(equals + 1))
  if (path === '' || spelled === null)
    throw unusable(word, 'Write a sound, = and a role, such as clash.wav=clash:2.')
  const [, role = '', detail, number] = spelled
  if (role === 'none' && detail === undefined && number === undefined) return { path, place: null }
  if (!isOneOf(ROLES, role)) throw unusable(word, hint(role, [...ROLES, 'none']))
  const part: Part = isOneOf(PARTS, detail) ? detail : 'body'
  const layer: Layer | null = isOneOf(LAYERS, detail) ? detail : null
  if (detail !== undefined && !isOneOf(PARTS, detail) && layer === null) {
    throw unusable(word, hint(detail, [...PARTS, ...LAYERS]))
  }
  return {
    path,
    place: { role: role satisfies Role, part, layer, number: number === undefined ? null : Number(number) },
  }
}

function isOneOf<T extends string>(all: readonly T[], word: string | undefined): word is T {
  return all.some((each) => each === word)
}

function hint(word: string, all: readonly string[]): string {
  const nearest = nearestWord(word, all)
  return nearest === null ? `There are ${all.join(', ')}.` : `Did you mean "${nearest}"?`
}

function unusable(where: string, mend: string): AppError {
  return new AppError({ code: 'usage', what: 'This tells no role.', where, mend })
}

function rolesText(roles: Roles): string {
  const rows = roles.sounds.map(({ path, place, roleSource, guess }) => {
    if (guess === null) {
      const by = { scheme: 'by its name', inferred: 'guessed', user: 'as told' }
      return [
        path,
        place === null ? 'none' : placeInWords(place),
        roleSource === null ? '' : by[roleSource],
        null,
      ]
    }
    const sure = `${Math.round(guess.confidence * 100)} %`
    return [
      path,
      guess.place === null ? '?' : `${placeInWords(guess.place)}?`,
      guess.isConfident ? `guessed, ${sure} sure` : `ask, ${sure} sure`,
      guess.reasons.join('; '),
    ]
  })
  const counts = [
    `${counted(roles.knownCount, 'role')} known`,
    `${roles.confidentCount} guessed`,
    `${roles.askCount} to ask`,
  ].join(', ')
  return [
    printable(`${fontTitle(roles.font, roles.version)}: ${counts}`),
    '',
    table(['sound', 'is for', 'how it is known', 'why'], rows),
  ].join('\n')
}
