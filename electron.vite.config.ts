import react from '@vitejs/plugin-react'
import { readdirSync } from 'node:fs'
import { basename, join } from 'node:path'
import type { Plugin, UserConfig } from 'vite'

const root = import.meta.dirname
const workerFolder = join(root, 'main/workers')
const workers = readdirSync(workerFolder).filter((name) => name.endsWith('.entry.ts'))

/** The source starts workers by the URL of a .ts file; the bundle keeps them beside the main file. */
const workersBesideMain: Plugin = {
  name: 'workers-beside-main',
  transform(code) {
    const moved = code.replace(
      /new URL\(\s*['"][^'"]*?([\w-]+\.entry)\.ts['"],\s*import\.meta\.url,?\s*\)/g,
      (_all, name: string) => `new URL('./${name}.js', import.meta.url)`,
    )
    return moved === code ? null : { code: moved, map: null }
  },
}

/** The desktop door's main process, with every worker as an entry of its own in the same folder. */
const main: UserConfig = {
  plugins: [workersBesideMain],
  build: {
    outDir: join(root, 'out/main'),
    target: 'node24',
    rollupOptions: {
      input: Object.fromEntries([
        ['desktop', join(root, 'main/desktop/desktop.ts')],
        ...workers.map((name) => [basename(name, '.ts'), join(workerFolder, name)]),
      ]),
      output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
    },
  },
}

/** A sandboxed preload may require nothing: everything is bundled into one CommonJS file. */
const preload: UserConfig & { build: { externalizeDeps: boolean } } = {
  build: {
    outDir: join(root, 'out/preload'),
    externalizeDeps: false,
    rollupOptions: {
      input: { preload: join(root, 'main/desktop/preload/preload.ts') },
      output: { format: 'cjs', entryFileNames: '[name].cjs' },
    },
  },
}

/** The window; both doors serve the same bundle, and put each page's own nonce in. */
const renderer: UserConfig = {
  root: join(root, 'renderer'),
  plugins: [react()],
  html: { cspNonce: 'NONCE-OF-THIS-PAGE' },
  build: {
    outDir: join(root, 'out/renderer'),
    emptyOutDir: true,
    // The policy allows no data: addresses.
    assetsInlineLimit: 0,
    minify: true,
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 2000,
    rollupOptions: { input: join(root, 'renderer/index.html') },
  },
}

export default { main, preload, renderer }
