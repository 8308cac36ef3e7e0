import { fileURLToPath } from 'node:url'
import type { Page } from 'playwright-core'
import { build, type Rollup } from 'vite'

/**
 * Loads a module of the window, as the window's own bundler makes it, into an open page.
 * @param path from the root of the repository
 * @param name under which the page finds what the module exports, on its global object
 */
export async function loadInPage(page: Page, path: string, name: string): Promise<void> {
  const built = (await build({
    configFile: false,
    logLevel: 'error',
    build: {
      write: false,
      minify: false,
      lib: {
        entry: fileURLToPath(new URL(`../../${path}`, import.meta.url)),
        formats: ['iife'],
        name: 'loaded',
      },
    },
  })) as Rollup.RollupOutput[]
  const [chunk] = built[0]?.output ?? []
  if (chunk?.type !== 'chunk') throw new Error(`${path} was not bundled into one script.`)
  await page.evaluate(`${chunk.code}\nglobalThis.${name} = loaded`)
}
