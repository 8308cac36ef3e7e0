/** What the name of a folder or archive tells of the font in it. */
export interface FontLabel {
  readonly name: string
  /** Without a leading `v`; empty where the name tells none. */
  readonly version: string
}

const NUMBERS = String.raw`\d{1,4}(?:\.\d{1,4}){0,3}[a-z]?`
/** With a `v` before it any number is a version; without one only a dotted number: `Ember 2` is a name. */
const VERSION = String.raw`(?:(?:v|ver|version)[ ._]?(${NUMBERS})|(\d{1,4}(?:\.\d{1,4}){1,3}[a-z]?))`
const TRAILING = new RegExp(String.raw`^(.*?)(?:[ _.-]+|[ _.-]*[([])${VERSION}[)\]]?$`, 'i')
const WHOLE = new RegExp(`^[([]?${VERSION}[)\\]]?$`, 'i')
const JOINT = /[ _-]+$/

/**
 * Splits a folder's or archive's name into the font's name and version: `Ember v2`, `ember_1.1`,
 * `Ember (v1.4b)`. A name that is nothing but a version gives an empty name.
 *
 * @param label without an archive's extension
 */
export function readFontLabel(label: string): FontLabel {
  const plain = label.trim()
  const whole = WHOLE.exec(plain)
  if (whole !== null) return { name: '', version: whole[1] ?? whole[2] ?? '' }
  const trailing = TRAILING.exec(plain)
  const name = trailing?.[1]?.replace(JOINT, '') ?? ''
  if (trailing === null || name === '') return { name: plain === '' ? label : plain, version: '' }
  return { name, version: trailing[2] ?? trailing[3] ?? '' }
}

/** Folders that anybody has, which therefore name neither a font nor its maker. */
const GENERIC = new Set(
  [
    ...[
      'font',
      'fonts',
      'sound font',
      'sound fonts',
      'sound',
      'sounds',
      'audio',
      'wav',
      'wavs',
      'wave',
      'files',
    ],
    ...[
      'library',
      'archive',
      'archives',
      'collection',
      'downloads',
      'download',
      'documents',
      'desktop',
      'home',
    ],
    ...[
      'tmp',
      'temp',
      'backup',
      'data',
      'media',
      'mnt',
      'new',
      'old',
      'misc',
      'various',
      'unsorted',
      'bought',
    ],
    ...['purchases', 'zip', 'zips', 'unpacked', 'share', 'shared', 'demo fonts', 'music'],
  ].map(folded),
)

export interface EditionName extends FontLabel {
  readonly proposedCreatorName: string | null
}

/**
 * Names an edition from its folder or archive; where that is only a version (`v2`) or a word that
 * anybody uses (`sounds`), from the one above it. The folder above the font's proposes the creator.
 *
 * @param labels from the scanned root down to the edition's own folder or archive; archives without
 *   their extension
 * @param above the folder that holds the root; it proposes only
 */
export function nameEdition(labels: readonly string[], above: string | null): EditionName {
  let version = ''
  for (let at = labels.length - 1; at >= 0; at -= 1) {
    const label = readFontLabel(labels[at] ?? '')
    version ||= label.version
    if (label.name !== '' && (at === 0 || !isGeneric(label.name))) {
      return { name: label.name, version, proposedCreatorName: proposedCreator(labels[at - 1] ?? above) }
    }
  }
  const own = labels.at(-1) ?? ''
  return { name: own, version, proposedCreatorName: proposedCreator(labels.at(-2) ?? above) }
}

/**
 * Labels of an edition inside an archive. Where the archive holds just this one, its own name is the
 * font's packing, not its maker: it stands for a folder inside that says nothing, or says the same,
 * and is left out otherwise.
 */
export function labelsInArchive(
  outside: readonly string[],
  archiveLabel: string,
  inside: readonly string[],
  isOnlyEdition: boolean,
): readonly string[] {
  const own = inside.at(-1)
  if (!isOnlyEdition || own === undefined) return [...outside, archiveLabel, ...inside]
  const inner = readFontLabel(own)
  const outer = readFontLabel(archiveLabel)
  if (inner.name === '' || isGeneric(inner.name)) return [...outside, archiveLabel, own]
  if (folded(inner.name) === folded(outer.name)) {
    return [...outside, inner.version === '' ? archiveLabel : own]
  }
  return [...outside, own]
}

function proposedCreator(label: string | null): string | null {
  if (label === null) return null
  const { name } = readFontLabel(label)
  return isGeneric(name) || !/\p{L}/u.test(name) ? null : name
}

function isGeneric(name: string): boolean {
  return GENERIC.has(folded(name))
}

function folded(name: string): string {
  return name.toLowerCase().replace(/[ _.-]+/g, '')
}
