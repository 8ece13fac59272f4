// What a search has evaluated, in a file: a line with its plan, then one for each lamp. A search that was stopped goes on with it; lines are added
// at the end, so that whatever ends the program leaves all but the last one whole.
import { appendFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs'
import type { Outcome, Outcomes } from '../job/choose/evaluating.ts'
import type { OptimizePlan } from '../job/choose/plan.ts'
import { designHash } from '../lamp/designHash.ts'
import type { Lamp } from '../lamp/schema.ts'
import { stripControls, UserError } from './io.ts'
import { readFault } from './lampFile.ts'

const FORMAT = 'lampwright search 1'

export interface SearchFile {
  outcomes: Outcomes
  add(key: string, outcome: Outcome): void
}

/** Opens or begins it. Refuses a file of another lamp or another search; the numbers of lamps and of starts may be others. */
export function openSearchFile(
  path: string,
  lamp: Lamp,
  { evaluations: _, starts: _starts, ...plan }: OptimizePlan,
): SearchFile {
  const head = JSON.stringify({ format: FORMAT, lamp: designHash(lamp), plan })
  const outcomes: Outcomes = new Map()
  try {
    if (existsSync(path)) {
      const text = readFileSync(path, 'utf8')
      const whole = text.slice(0, text.lastIndexOf('\n') + 1)
      const [first = '', ...rows] = whole.split('\n').filter(Boolean)
      refuseOther(path, first, head)
      for (const row of rows) {
        const read = rowOf(row)
        if (read) outcomes.set(...read)
      }
      // A line that was cut off in the middle.
      if (whole.length < text.length) writeFileSync(path, whole)
    } else writeFileSync(path, `${head}\n`, { flag: 'wx' })
  } catch (error) {
    throw error instanceof UserError ? error : new UserError(readFault(path, error, 'the file of a search'))
  }
  return {
    outcomes,
    add: (key, outcome) => appendFileSync(path, `${JSON.stringify([key, outcome])}\n`),
  }
}

function refuseOther(path: string, first: string, head: string): void {
  if (first === head) return
  const name = stripControls(path)
  if (!first.includes(FORMAT)) throw new UserError(`${name} holds no search; --state needs a file of its own.`)
  const lampOf = (line: string) => /"lamp":"(\w+)"/.exec(line)?.[1]
  throw new UserError(
    lampOf(first) === lampOf(head)
      ? `${name} holds another search of this lamp: it must have the same --move, --want, --keep, --rays and --seed.`
      : `${name} holds a search of another lamp.`,
  )
}

function rowOf(line: string): [string, Outcome] | null {
  try {
    const row: unknown = JSON.parse(line)
    return Array.isArray(row) && row.length === 2 && typeof row[0] === 'string' ? (row as [string, Outcome]) : null
  } catch {
    return null
  }
}
