import { registerHooks } from 'node:module'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { electronStandIn } from './electron-stand-in.ts'

// Runs the bundled desktop program in a plain Node process, with a stand-in for the `electron`
// module: its workers, its database and its preload are then the bundle's own. Argument: the
// bundle's folder. Does the demo's main job through IPC and prints what came of it as JSON.

const [bundle = ''] = process.argv.slice(2)
const { electron, invoke, quit } = electronStandIn()
Object.assign(globalThis, { electronStandIn: electron })
const face = Object.keys(electron)
  .map((name) => `export const ${name} = globalThis.electronStandIn.${name}`)
  .join('\n')

registerHooks({
  resolve: (specifier, context, next) =>
    specifier === 'electron'
      ? { url: `data:text/javascript,${encodeURIComponent(face)}`, format: 'module', shortCircuit: true }
      : next(specifier, context),
})

await import(pathToFileURL(join(bundle, 'main/desktop.js')).href)
const { jobs, preferences, isOpen } = await electron.opened
const status = await invoke('workshop:status', {})
const started = (await invoke('demo:prepare', {})) as { value: { jobId: string } }
const job = await jobs(started.value.jobId)
process.stdout.write(JSON.stringify({ isOpen, preferences, status, job }))
await quit()
