import { execFileSync } from 'node:child_process'
import { chmodSync, linkSync, mkdirSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { handMadeZip, type HandMadeEntry } from './hand-made-zip.ts'
import { plainWave } from './plain-wave.ts'
import { writeFiles } from './temporary-folder.ts'

const MIB = 2 ** 20

/**
 * Writes a library of what is legal on Linux and unpleasant everywhere: names, links, pipes, sparse
 * files, deep folders and bad archives. `library` is what is scanned; `outside` must stay untouched.
 */
export function writeNastyTree(folder: string): void {
  let seed = 0
  const wave = () => plainWave((seed += 1))
  const library = join(folder, 'library')
  writeFiles(folder, { 'outside/secret.wav': wave(), 'outside/target.txt': 'still here' })
  writeFiles(library, {
    'plain/hum.wav': wave(),
    'plain/.DS_Store': 'x',
    'plain/._hum.wav': 'no sound',
    ...Object.fromEntries(ODD_NAMES.map((name) => [`names/${name}`, wave()])),
    ...Object.fromEntries(ODD_FOLDERS.map((name) => [`${name}/hum.wav`, wave()])),
    'kinds/hum.wav/inner.wav': wave(),
    'kinds/empty.wav': '',
    'kinds/short.wav': wave().subarray(0, 14),
    'kinds/text.wav': 'not a sound',
    'kinds/none': wave(),
    'folder.zip/hum.wav': wave(),
    [`${Array.from({ length: 60 }, (_, at) => `deep-${at}`).join('/')}/hum.wav`]: wave(),
  })
  writeFileSync(
    Buffer.concat([Buffer.from(`${library}/names/latin-`), Buffer.of(0xe9), Buffer.from('.wav')]),
    wave(),
  )
  writeLinks(library)
  writeSpecial(library, wave)
  writeOverlong(library, wave)
  mkdirSync(join(library, 'archives'))
  for (const [name, bytes] of Object.entries(badArchives(wave))) {
    writeFileSync(join(library, 'archives', name), bytes)
  }
}

const ODD_NAMES = [
  'caf\u00e9.wav',
  'cafe\u0301.wav',
  '\u202egnos.wav',
  `${'n'.repeat(251)}.wav`,
  'CON.wav',
  'hum.wav ',
  ' hum.wav',
  '...',
  '.wav',
  'a\\.wav',
  'a:.wav',
  'tab\there.wav',
  'line\nfeed.wav',
  'esc\u001b[31mred.wav',
  '$(touch escape-shell).wav',
  '-rf.wav',
  '<img src=x onerror=alert(1)>.wav',
  '__proto__',
  'constructor.wav',
]
export const ODD_FOLDERS = [
  '__proto__',
  'constructor',
  '--into',
  'con',
  'trailing. ',
  'trailing',
  '....',
  '.hidden',
  'Twin',
  'TWIN',
]

function writeLinks(library: string): void {
  const links = {
    self: 'self',
    up: '..',
    ping: 'pong',
    pong: 'ping',
    'gone.wav': 'nowhere',
    'out.wav': '../../outside/secret.wav',
    out: '../../outside',
  }
  mkdirSync(join(library, 'links'))
  for (const [name, target] of Object.entries(links)) symlinkSync(target, join(library, 'links', name))
}

function writeSpecial(library: string, wave: () => Uint8Array): void {
  writeFiles(library, { 'special/hum.wav': wave(), 'special/locked.wav': wave() })
  writeFiles(library, { 'huge/hum.wav': wave(), 'huge/boot.wav': wave() })
  linkSync(join(library, 'special/hum.wav'), join(library, 'special/hard.wav'))
  execFileSync('mkfifo', [join(library, 'special/pipe.wav')])
  chmodSync(join(library, 'special/locked.wav'), 0)
  // Sparse: they take no room. The one is larger than a file on a card can be.
  truncateSync(join(library, 'huge/hum.wav'), 6 * 1024 * MIB)
  truncateSync(join(library, 'huge/boot.wav'), 64 * MIB)
}

function writeOverlong(library: string, wave: () => Uint8Array): void {
  const script = 'cd "$1"; for k in $(seq 40); do mkdir "$2" && cd "$2"; done; cat > hum.wav'
  execFileSync('bash', ['-c', script, 'bash', library, 'd'.repeat(120)], { input: wave() })
}

function badArchives(wave: () => Uint8Array): Record<string, Uint8Array> {
  const entry = (name: string, more: Partial<HandMadeEntry> = {}): HandMadeEntry => ({
    name,
    data: wave(),
    ...more,
  })
  const bomb = handMadeZip([{ name: 'font/hum.wav', data: new Uint8Array(20 * MIB) }])
  const good = handMadeZip([entry('font/hum.wav'), entry('font/clash-01.wav')])
  return {
    'good.zip': good,
    'traversal.zip': handMadeZip([
      entry('../escape-1.wav'),
      entry('font/../../escape-2.wav'),
      entry('..\\escape-3.wav'),
    ]),
    'absolute.zip': handMadeZip([entry('/escape.wav'), entry('C:\\escape.wav')]),
    'link.zip': handMadeZip([
      { name: 'font/out', data: Buffer.from('../../outside'), stored: true, unixMode: 0o120777 },
      entry('font/out/escape.wav'),
    ]),
    'two-names.zip': handMadeZip([entry('font/hum.wav', { centralName: 'font/hun.wav' })]),
    'bomb.zip': bomb,
    'bomb-nested.zip': handMadeZip([{ name: 'font/in.zip', data: bomb }]),
    'bomb-lies.zip': handMadeZip([{ name: 'font/hum.wav', data: new Uint8Array(20 * MIB), saidSize: 4096 }]),
    'many.zip': handMadeZip(
      Array.from({ length: 20_000 }, (_, at) => ({
        name: `font/${at}.wav`,
        data: new Uint8Array(),
        stored: true,
      })),
    ),
    'duplicates.zip': handMadeZip([entry('font/hum.wav'), entry('font/hum.wav'), entry('font/HUM.wav')]),
    'locked.zip': handMadeZip([entry('font/hum.wav', { password: 'kit' })]),
    'cut.zip': good.subarray(0, good.length / 2),
    'zero.zip': new Uint8Array(),
    'pack.rar': Buffer.from('526172211a0700', 'hex'),
    'pack.iso': new Uint8Array(100),
  }
}
