import type { Page } from 'playwright-core'

const MOST_PRESSES = 120

/** Presses Tab until the control of this name has the focus: as far as a keyboard alone gets. */
export async function tabTo(page: Page, name: RegExp): Promise<void> {
  for (let press = 0; press < MOST_PRESSES; press++) {
    if (name.test(await focusedName(page))) return
    await page.keyboard.press('Tab')
  }
  throw new Error(`Tab never reached ${String(name)}; the focus is on "${await focusedName(page)}".`)
}

/** Name of what has the focus: its label, else its own words. */
export function focusedName(page: Page): Promise<string> {
  return page.evaluate(() => {
    const focused = document.activeElement
    if (focused === null || focused === document.body) return ''
    const labels = focused instanceof HTMLInputElement ? [...(focused.labels ?? [])] : []
    const label = labels.map((each) => each.textContent).join(' ')
    return (focused.getAttribute('aria-label') ?? (label === '' ? focused.textContent : label)).trim()
  })
}

/** Whether what has the focus shows it by an outline. */
export function focusShows(page: Page): Promise<boolean> {
  return page.evaluate(() => {
    const focused = document.activeElement
    if (focused === null) return false
    const { outlineStyle, outlineWidth } = getComputedStyle(focused)
    return outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2
  })
}
