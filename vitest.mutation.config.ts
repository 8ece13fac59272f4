// The tests that judge the mutants of one folder of src (scripts/mutation.mjs sets which): its own and the published values, without the
// slow whole ways.
import { defineConfig } from 'vitest/config'

const tests = (process.env['MUTATION_TESTS'] ?? 'tests/run/**').split(' ')

export default defineConfig({
  test: {
    include: tests.map((t) => `${t}/*.test.{ts,tsx}`.replace('/**/*', '/**/*')),
    environment: 'node',
    testTimeout: 60_000,
  },
})
