import { AxeBuilder } from '@axe-core/playwright'
import { existsSync, mkdirSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { chromium, type Browser, type Page } from 'playwright-core'
import { expect } from 'vitest'

const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))))

/** Where an installed browser is looked for on systems for which none comes from npm. */
const INSTALLED = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
]

async function browserPath(): Promise<string> {
  const named = process.env['CARDWRIGHT_BROWSER']
  if (named !== undefined) return named
  if (process.platform === 'linux' && process.arch === 'x64') {
    // Only the binary is taken: the arguments that come with it switch web security off.
    const { default: packed } = await import('@sparticuz/chromium')
    return packed.executablePath()
  }
  const found = INSTALLED.find((path) => existsSync(path))
  if (found !== undefined) return found
  throw new Error('No Chromium is installed here; name one in CARDWRIGHT_BROWSER.')
}

export async function launchBrowser(): Promise<Browser> {
  const isRoot = process.getuid?.() === 0
  return chromium.launch({
    executablePath: await browserPath(),
    headless: true,
    // Chromium's own sandbox does not run as root; elsewhere it stays on.
    chromiumSandbox: !isRoot,
  })
}

export type Scheme = 'light' | 'dark'

export interface OpenedPage {
  readonly page: Page
  /** What the browser refused or reported while the page was open; the tests want none. */
  readonly complaints: readonly string[]
}

/** A page of its own with its own cookies, in the given scheme, with motion reduced. */
export async function openPage(browser: Browser, url: string, scheme: Scheme = 'light'): Promise<OpenedPage> {
  const context = await browser.newContext({
    colorScheme: scheme,
    reducedMotion: 'reduce',
    viewport: { width: 1280, height: 800 },
    locale: 'en-GB',
    timezoneId: 'UTC',
  })
  context.setDefaultTimeout(20_000)
  const page = await context.newPage()
  const complaints: string[] = []
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text())
  })
  page.on('pageerror', (error) => complaints.push(String(error)))
  await page.goto(url)
  await page.getByRole('navigation', { name: 'Places' }).waitFor()
  return { page, complaints }
}

/** An expectation of what the page comes to, however busy the machine is. */
export function eventually(read: () => unknown): ReturnType<typeof expect.poll> {
  return expect.poll(read, { timeout: 20_000 })
}

/** Keeps a picture of the page for people, where CI collects them. */
export async function keepPicture(page: Page, name: string): Promise<void> {
  const folder = join(root, 'artifacts', 'window')
  mkdirSync(folder, { recursive: true })
  await page.screenshot({ path: join(folder, `${name}.png`) })
}

/** Rules of WCAG 2.0 to 2.2, levels A and AA, and axe's best practices, on the page as it stands. */
export async function expectNoViolation(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'])
    .analyze()
  const told = violations.map(({ id, help, nodes }) => ({
    id,
    help,
    where: nodes.map((node) => `${node.target.join(' ')}: ${node.failureSummary ?? ''}`),
  }))
  expect(told).toEqual([])
}
