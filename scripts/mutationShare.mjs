// For `--share` of mutation.mjs: Stryker asks this checker of every mutant, and the ones that aren't drawn are left out as if they didn't
// compile. Each is drawn by a hash of where it is and what it says, so the same code gives the same sample, and every mutant is as likely as any other.
// `--from` leaves out the ones of smaller hashes: a sample that nobody has written tests for.
import { createHash } from 'node:crypto'

const share = Number(process.env.MUTATION_SHARE ?? 1)
const from = Number(process.env.MUTATION_FROM ?? 0)

const isDrawn = ({ fileName, location, mutatorName, replacement }) => {
  const { start, end } = location
  const place = [start.line, start.column, end.line, end.column].join()
  const text = `${fileName.replace(/\\/g, '/').replace(/^.*\/src\//, '')}\0${place}\0${mutatorName}\0${replacement}`
  const drawn = createHash('sha256').update(text).digest().readUInt32BE() / 2 ** 32
  return drawn >= from && drawn < from + share
}

const checker = {
  init: async () => {},
  group: async (mutants) => [mutants.map(({ id }) => id)],
  check: async (mutants) =>
    Object.fromEntries(
      mutants.map((mutant) => [
        mutant.id,
        isDrawn(mutant) ? { status: 'passed' } : { status: 'compileError', reason: 'not drawn' },
      ]),
    ),
}

export const strykerPlugins = [{ kind: 'Checker', name: 'share', value: checker }]
