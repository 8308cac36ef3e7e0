import { defineConfig } from 'vitest/config'

const project = (name: string, extra: object = {}) => ({
  test: {
    name,
    include: [`tests/${name}/**/*.test.ts`],
    environment: 'node' as const,
    pool: 'forks' as const,
    setupFiles: ['tests/support/seeded.ts'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    ...extra,
  },
})

export default defineConfig({
  test: {
    projects: [
      project('unit'),
      project('ports'),
      project('outside', { testTimeout: 300_000 }),
      project('browser', { testTimeout: 180_000, hookTimeout: 180_000, fileParallelism: false }),
    ],
    maxWorkers: 2,
  },
})
