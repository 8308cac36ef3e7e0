import { readFileSync } from 'node:fs'
import { openWorkerInspector } from '../../main/workers/worker-inspector.ts'

// What the benches time as ours: the product's whole measuring pass over a list of files, in a
// process of its own. usage: measure-files.ts LIST [--unhashed|--print], where each line is `bytes<TAB>path`;
// --unhashed leaves out the hash of whole files.
const files = readFileSync(process.argv[2] ?? '', 'utf8')
  .split('\n')
  .filter((line) => line !== '')
  .map((line) => {
    const [sizeBytes = '0', path = ''] = line.split('\t')
    return { path, sizeBytes: Number(sizeBytes) }
  })
const entry = new URL('./unhashed.entry.ts', import.meta.url)
const inspector = openWorkerInspector(process.argv.includes('--unhashed') ? { entry } : {})
const lines: string[] = []
const record = (index: number, { inspection }: { inspection: { measures: { levels: object } | null } }) => {
  lines[index] = JSON.stringify(inspection.measures?.levels ?? null)
}
await inspector.inspectFiles(files, record, new AbortController().signal)
await inspector.close()
if (process.argv[3] === '--print') process.stdout.write(`${lines.join('\n')}\n`)
