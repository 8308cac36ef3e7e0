import { join } from 'node:path'
import { expect, test } from 'vitest'

interface Bootstrap {
  complaintAboutNode(version: string): string | undefined
  explain(text: string): string
}
const { complaintAboutNode, explain } = (await import(
  join(import.meta.dirname, '../../../main/bootstrap.mjs')
)) as Bootstrap

test.each(['12.22.1', '18.20.4', '19.9.0'])(
  'Node %s is told to be too old, with what to install',
  (version) => {
    expect(complaintAboutNode(version)).toBe(
      `this is Node ${version}, and Cardwright needs Node 20 or later; install a current one from https://nodejs.org and run the same command again.`,
    )
  },
)

test.each(['20.0.0', '24.9.0', '26.10.0'])('Node %s will do', (version) => {
  expect(complaintAboutNode(version)).toBeUndefined()
})

test.each([
  ['npm error code ENOTFOUND\nnpm error network request failed', 'the npm registry could not be reached'],
  ['npm error code ENOSPC\nnpm error nospc no space left on device', 'there is no room left on the disk'],
  ['npm error code SELF_SIGNED_CERT_IN_CHAIN', 'certificate is not trusted'],
  ["npm error code EACCES\nnpm error permission denied, mkdir '/x'", 'may not write into'],
  ['npm error code E404\nnpm error 404 Not Found', 'npm error 404 Not Found'],
])('npm saying %j is told in plain words', (text, words) => {
  expect(explain(text)).toContain(words)
})
