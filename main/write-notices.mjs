// Writes resources/licences/NOTICES.md: what Cardwright brings along, by whose licence. From the lock
// file and the packages' own words; `--check` only compares (a test does).
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = dirname(dirname(fileURLToPath(import.meta.url)))
const file = join(root, 'resources/licences/NOTICES.md')

const HEAD = `# Notices

Cardwright is under the MIT licence (see LICENSE). It brings along the packages below, each under its own licence, whose text lies in the package's folder.

The package \`@ffmpeg-installer/ffmpeg\` carries a program, FFmpeg, built with parts under the GNU General Public License, version 3. Cardwright starts it as a separate program and does not link it; its source is at <https://ffmpeg.org>. Where another \`ffmpeg\` is on the PATH, or set by the user, that one is used instead.

| package | version | licence |
| --- | --- | --- |
`

/** The licence a package states, in its manifest or by the name of its licence file. */
function licenceOf(path, entry) {
  if (typeof entry.license === 'string') return entry.license
  const manifest = join(root, path, 'package.json')
  if (existsSync(manifest)) {
    const { license, licenses } = JSON.parse(readFileSync(manifest, 'utf8'))
    if (typeof license === 'string') return license
    if (typeof license?.type === 'string') return license.type
    if (Array.isArray(licenses)) return licenses.map((one) => one.type).join(' or ')
  }
  return 'see its folder'
}

function notices() {
  const { packages } = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8'))
  const rows = Object.entries(packages)
    .filter(([path, entry]) => path !== '' && !entry.dev && !entry.optional && !entry.devOptional)
    .map(
      ([path, entry]) =>
        `| ${path.split('node_modules/').at(-1)} | ${entry.version} | ${licenceOf(path, entry)} |`,
    )
  return `${HEAD}${[...new Set(rows)].toSorted().join('\n')}\n`
}

if (process.argv.includes('--check')) {
  const current = existsSync(file) && readFileSync(file, 'utf8') === notices()
  process.stdout.write(current ? 'notices: current\n' : 'notices: run `npm run write-notices`\n')
  process.exit(current ? 0 : 1)
}
writeFileSync(file, notices())
