import type { Page } from 'playwright-core'

/** Jobs that the door keeps for a window, outcomes and all. */
export function jobCount(page: Page): Promise<number> {
  return page.evaluate(async () => {
    const headers = { 'content-type': 'application/json' }
    const response = await fetch('/call/jobs:list', { method: 'POST', headers, body: '{}' })
    const { value } = (await response.json()) as { value: { jobs: unknown[] } }
    return value.jobs.length
  })
}
