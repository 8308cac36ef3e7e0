import type { Companion } from '../../model/sound.ts'

/**
 * What a file is for a scan, by its name alone: opening every file of a tree to look is what makes a
 * second scan slow.
 */
export type FileKind = 'sound' | 'companion' | 'litter' | 'zip' | 'other-archive'

/** Extensions of sounds: WAV, and other kinds that a maker may hand out originals in. */
const SOUND_EXTENSIONS: ReadonlySet<string> = new Set([
  ...['wav', 'wave', 'bwf', 'rf64'],
  ...['aif', 'aiff', 'aifc', 'flac', 'mp3', 'ogg', 'oga', 'opus', 'm4a', 'aac', 'wma'],
])

/** Extensions of archives that Cardwright cannot open, with the word for each. */
export const OTHER_ARCHIVES: ReadonlyMap<string, string> = new Map([
  ['7z', '7z'],
  ['rar', 'RAR'],
  ['tar', 'tar'],
  ['gz', 'gzip'],
  ['tgz', 'gzip'],
  ['bz2', 'bzip2'],
  ['tbz2', 'bzip2'],
  ['xz', 'xz'],
  ['txz', 'xz'],
  ['zst', 'Zstandard'],
  ['lz4', 'LZ4'],
  ['lzh', 'LHA'],
  ['cab', 'CAB'],
  ['arj', 'ARJ'],
  ['iso', 'disc image'],
  ['dmg', 'disk image'],
])

const COMPANION_KINDS: readonly (readonly [Companion['kind'], readonly string[]])[] = [
  [
    'text',
    ['txt', 'ini', 'cfg', 'conf', 'config', 'json', 'yaml', 'yml', 'toml', 'xml', 'csv', 'md', 'nfo', 'log'],
  ],
  ['picture', ['png', 'jpg', 'jpeg', 'gif', 'bmp', 'webp', 'svg', 'tif', 'tiff', 'ico', 'pbm']],
  ['document', ['pdf', 'doc', 'docx', 'odt', 'rtf', 'html', 'htm', 'epub']],
]
const KIND_OF_EXTENSION: ReadonlyMap<string, Companion['kind']> = new Map(
  COMPANION_KINDS.flatMap(([kind, extensions]) => extensions.map((each) => [each, kind] as const)),
)

/** Files that operating systems and synchronising programs leave behind; from memory. */
const LITTER_FILES: ReadonlySet<string> = new Set([
  ...[
    '.ds_store',
    '.localized',
    '.apdisk',
    '.volumeicon.icns',
    '.com.apple.timemachine.donotpresent',
    'icon\r',
  ],
  ...['thumbs.db', 'ehthumbs.db', 'ehthumbs_vista.db', 'desktop.ini', 'indexervolumeguid', 'wpsettings.dat'],
  ...['.directory', '.hidden', '.nomedia', '.dropbox', '.dropbox.attr', '.picasa.ini'],
])
const LITTER_FOLDERS: ReadonlySet<string> = new Set([
  ...['__macosx', '.spotlight-v100', '.trashes', '.trash', '.fseventsd', '.temporaryitems', '.appledouble'],
  ...['.documentrevisions-v100', 'system volume information', '$recycle.bin', 'recycler', 'found.000'],
  ...['lost+found', '@eadir', '.thumbnails', '.stversions', '.dropbox.cache'],
])

/** What stands behind the last dot, in lower case; empty where nothing does. */
export function extensionOf(name: string): string {
  const dot = name.lastIndexOf('.')
  return dot < 0 ? '' : name.slice(dot + 1).toLowerCase()
}

export function kindOfFile(name: string): FileKind {
  if (isLitterFile(name)) return 'litter'
  const extension = extensionOf(name)
  if (SOUND_EXTENSIONS.has(extension)) return 'sound'
  if (extension === 'zip') return 'zip'
  return OTHER_ARCHIVES.has(extension) ? 'other-archive' : 'companion'
}

export function companionKind(name: string): Companion['kind'] {
  return KIND_OF_EXTENSION.get(extensionOf(name)) ?? 'other'
}

/** Whether a folder was left behind by an operating system: it is listed and never entered. */
export function isLitterFolder(name: string): boolean {
  const lower = name.toLowerCase()
  return LITTER_FOLDERS.has(lower) || /^\.trash-\d+$/.test(lower)
}

function isLitterFile(name: string): boolean {
  const lower = name.toLowerCase()
  // `._x` holds what another file system could not keep of `x`: no sound, whatever the name says.
  return name.startsWith('._') || LITTER_FILES.has(lower) || /^\.(fuse_hidden|nfs)[0-9a-f]+$/.test(lower)
}
