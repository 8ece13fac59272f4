// npm run test:long:changed: the long form (tests/kit/amount.ts) of the tests that the last commit touches: those it changed, and those of the
// files of src that it changed (src/num/stats.ts: tests/num/stats.test.ts). Nothing to do where none of them has a long form.
import { execFileSync, spawnSync } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = dirname(dirname(fileURLToPath(import.meta.url)))

function changed() {
  try {
    const args = ['diff', '--name-only', 'HEAD~1', 'HEAD']
    return execFileSync('git', args, { cwd: root, encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] })
      .trim()
      .split('\n')
  } catch {
    return [] // the first commit, or no git
  }
}

const testsOf = (path) =>
  path.startsWith('src/')
    ? [
        path.replace(/^src\//, 'tests/').replace(/\.tsx?$/, '.test.ts'),
        path.replace(/^src\//, 'tests/').replace(/\.tsx?$/, '.test.tsx'),
      ]
    : [path]

const isLong = (path) =>
  /^tests\/(?!browser\/|parity\/).*\.test\.tsx?$/.test(path) &&
  existsSync(join(root, path)) &&
  /\bamount\(/.test(readFileSync(join(root, path), 'utf8'))

const files = [...new Set(changed().flatMap(testsOf))].filter(isLong)
if (files.length === 0) {
  console.log('The last commit touches no test that has a long form.')
  process.exit(0)
}
const vitest = join(root, 'node_modules/vitest/vitest.mjs')
const env = { ...process.env, LAMPWRIGHT_LONG: '1' }
const { status } = spawnSync(process.execPath, [vitest, 'run', '--project', 'unit*', '--project', 'random', ...files], {
  cwd: root,
  env,
  stdio: 'inherit',
})
process.exit(status ?? 1)
