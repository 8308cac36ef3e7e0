import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { builtKernelFile, KERNELS } from '../../../../main/workers/build-kernel.ts'

test.each(KERNELS)('what is kept of $source is what it builds, byte for byte', async (kernel) => {
  expect(await builtKernelFile(kernel)).toBe(readFileSync(kernel.file, 'utf8'))
})
