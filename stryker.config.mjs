// Mutation testing: small faults are put into the code, and a test must fail for each. `npm run test:mutation -- FOLDER`.
const folder = process.env.MUTATION_FOLDER ?? 'run'

export default {
  testRunner: 'vitest',
  plugins: ['@stryker-mutator/vitest-runner'],
  vitest: { configFile: 'vitest.mutation.config.ts', related: false },
  mutate: [`src/${folder}/**/*.ts`],
  ignorePatterns: ['dist', 'public', 'shots', 'coverage'],
  reporters: ['clear-text', 'json'],
  jsonReporter: { fileName: `node_modules/.cache/mutation/${folder}.json` },
  clearTextReporter: { allowColor: false, logTests: false, reportTests: false },
  tsconfigFile: 'none.json', // its reader needs an interface that TypeScript 7 has not
  tempDirName: 'node_modules/.cache/mutation/work',
  incremental: true,
  incrementalFile: `node_modules/.cache/mutation/${folder}-incremental.json`,
  ignoreStatic: false,
  timeoutMS: 20_000,
  thresholds: { high: 90, low: 80, break: null },
}
