// `npm run check`: types, lint, format, layers, unused code. Each step's own output, one line at the end.
import { spawnSync } from 'node:child_process'
import { readFileSync, readdirSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = dirname(dirname(fileURLToPath(import.meta.url)))
const LAYERS = ['app', 'main', 'renderer', 'tests']

/** Runs a tool under this Node; its output goes through. */
function run(script, args) {
  return (
    spawnSync(process.execPath, [join('node_modules', script), ...args], { cwd: root, stdio: 'inherit' })
      .status === 0
  )
}

function sourceFiles(folder) {
  return readdirSync(join(root, folder), { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && /\.(ts|tsx|mjs)$/.test(entry.name) && !entry.name.endsWith('.d.ts'))
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => !path.includes(join('kernel', 'assembly')))
}

/** Layer rules, and proof that the cruiser saw every file: blind, it would find nothing wrong. */
function layers() {
  const result = spawnSync(
    process.execPath,
    [
      join('node_modules', 'dependency-cruiser/bin/dependency-cruiser.mjs'),
      '--config',
      '.dependency-cruiser.config.mjs',
      '--output-type',
      'json',
      ...LAYERS,
    ],
    { cwd: root, encoding: 'utf8', maxBuffer: 1 << 28 },
  )
  let report
  try {
    report = JSON.parse(result.stdout)
  } catch {
    process.stdout.write(`${result.stderr}\n`)
    return false
  }
  const violations = report.summary.violations
  for (const violation of violations) {
    process.stdout.write(`  ${violation.rule.name}: ${violation.from} -> ${violation.to}\n`)
  }
  const cruised = report.modules.filter((module) =>
    LAYERS.some((layer) => module.source.startsWith(`${layer}/`)),
  ).length
  const files = LAYERS.flatMap(sourceFiles).length
  process.stdout.write(`  ${cruised} modules cruised, ${files} files, ${violations.length} violations\n`)
  return violations.length === 0 && cruised >= files
}

const steps = [
  ['types', () => run('typescript/bin/tsc', ['-b'])],
  ['lint', () => run('oxlint/bin/oxlint', LAYERS)],
  [
    'format',
    () =>
      run(
        'prettier/bin/prettier.cjs',
        ['--check', '--log-level', 'warn', ...LAYERS, '*.config.ts', '*.mjs'].filter(
          (argument) => argument !== '*.mjs',
        ),
      ),
  ],
  ['layers', layers],
  ['unused code', () => run('knip/bin/knip.js', [])],
]

const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'))
process.stdout.write(`Checking Cardwright ${version}\n`)
const failed = []
for (const [name, step] of steps) {
  process.stdout.write(`- ${name}\n`)
  if (!step()) failed.push(name)
}
process.stdout.write(
  failed.length === 0 ? 'check: all holds\n' : `check: does not hold: ${failed.join(', ')}\n`,
)
process.exit(failed.length === 0 ? 0 : 1)
