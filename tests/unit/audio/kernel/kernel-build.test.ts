import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { builtKernelFile, kernelBytesFile } from '../../../../main/workers/build-kernel.ts'

test('the kernel that is kept is the one that its source builds, byte for byte', async () => {
  expect(await builtKernelFile()).toBe(readFileSync(kernelBytesFile, 'utf8'))
})
