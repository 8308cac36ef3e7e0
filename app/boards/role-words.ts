import { LAYERS, PARTS, ROLES } from '../model/role.ts'
import type { Role } from '../model/role.ts'

/** Forms of the trade's words that plain English gives: plurals, and what is done or happens. */
const FORMS: Readonly<Record<Role, readonly string[]>> = {
  hum: ['hums', 'humming', 'hummed'],
  ignite: ['ignites', 'ignition', 'ignitions', 'igniting', 'ignited'],
  retract: ['retracts', 'retraction', 'retractions', 'retracting', 'retracted'],
  swing: ['swings', 'swinging', 'swung'],
  clash: ['clashes', 'clashing', 'clashed'],
  deflect: ['deflects', 'deflection', 'deflections', 'deflecting', 'deflected'],
  lockup: ['lockups', 'lock-up', 'locked'],
  drag: ['drags', 'dragging', 'dragged'],
  melt: ['melts', 'melting', 'melted', 'molten'],
  boot: ['boots', 'booting', 'booted'],
  announce: ['announces', 'announcement', 'announcements', 'announcing', 'announced'],
  music: ['musics', 'musical'],
  'low-cell': ['low-cells', 'lowcell', 'lowcells'],
  other: ['others'],
}

/** Every full word for a role, joints left out (`lowcell`), with the role it means. */
export const ROLE_WORDS: ReadonlyMap<string, Role> = new Map(
  ROLES.flatMap((role) =>
    [role, ...FORMS[role]].map((word): [string, Role] => [word.replace(/-/g, ''), role]),
  ),
)

/** Plain English that is often meant so, joints left out (`poweron`): a proposal to confirm, and never more. */
const KINDRED: Readonly<Partial<Record<Role, readonly string[]>>> = {
  hum: ['idle', 'drone', 'buzz', 'buzzing'],
  ignite: ['poweron', 'powerup', 'turnon', 'switchon', 'activate', 'activation'],
  retract: ['poweroff', 'powerdown', 'turnoff', 'switchoff', 'deactivate', 'deactivation'],
  swing: ['whoosh', 'swoosh', 'swish'],
  clash: ['hit', 'hits', 'impact', 'impacts', 'strike', 'strikes', 'collision'],
  deflect: ['block', 'blocks', 'parry', 'bounce', 'ricochet'],
  drag: ['scrape', 'scraping'],
  boot: ['startup', 'welcome', 'hello'],
  announce: ['voice', 'fontname'],
  music: ['track', 'song', 'theme', 'melody', 'tune'],
  'low-cell': ['lowbattery', 'batterylow', 'lowbatt', 'battlow', 'battery'],
}

/** Every such word with the role that it is likely meant for. */
export const KINDRED_WORDS: ReadonlyMap<string, Role> = new Map(
  ROLES.flatMap((role) => (KINDRED[role] ?? []).map((word): [string, Role] => [word, role])),
)

const MODIFIERS: ReadonlySet<string> = new Set<string>([...PARTS, ...LAYERS])

/**
 * Whether a folder's name spells a role: the trade's word in full or one of its forms, a part or a
 * layer beside it, and a number. Used to tell a font made of role folders from a folder of fonts,
 * so it is strict: truncations do not count.
 */
export function isRoleName(word: string): boolean {
  const tokens = word
    .normalize('NFC')
    .toLowerCase()
    .split(/[\s_.-]+|(?<=\p{L})(?=\p{N})|(?<=\p{N})(?=\p{L})/u)
    .filter((token) => token !== '' && !/^\p{N}+$/u.test(token))
  if (tokens.length === 0 || tokens.length > 4) return false
  if (ROLE_WORDS.has(tokens.join(''))) return true
  const names = tokens.filter((token) => !MODIFIERS.has(token))
  return ROLE_WORDS.has(names.join(''))
}
