// lampwright check: the findings of a lamp; exit status 1 when one is severe.
import { availableParallelism } from 'node:os'
import { bySeverity } from '../checks/check.ts'
import { keptFromLedger } from '../job/beam/lightKept.ts'
import { powerFindings, runPower } from '../job/power/run.ts'
import { findingsText } from './findingsText.ts'
import { EXIT, plain, type Tools } from './io.ts'
import { openLamp } from './lampFile.ts'
import { onlyPositional, type Parsed } from './options.ts'
import { traced } from './trace.ts'
import { VERSION } from './version.ts'

export const CHECK_OPTIONS = { json: { type: 'boolean' }, help: { type: 'boolean' } } as const

/** Enough for hot spots within a few per cent; the upper end of ± decides in any case. */
const SHORT_TRACE_RAYS = 500_000

export async function checkCommand(parsed: Parsed, tools: Tools): Promise<number> {
  const lamp = openLamp(onlyPositional(parsed, 'a lamp file or the name of an example', 'check'))
  const options = { maxRays: SHORT_TRACE_RAYS, seed: 1, threads: availableParallelism() }
  const sheet = await traced(lamp, options, tools)
  const power = runPower(lamp, { kept: keptFromLedger(sheet.ledger) })
  const findings = bySeverity([...sheet.findings, ...powerFindings(lamp, power)])
  if (parsed.flags.has('json')) tools.io.out(`${JSON.stringify({ version: VERSION, lamp: lamp.name, findings })}\n`)
  else tools.io.out(`${plain(lamp.name)}\n${findingsText(findings)}\n`)
  return findings.some((f) => f.severity === 'severe') ? EXIT.severe : EXIT.fine
}
