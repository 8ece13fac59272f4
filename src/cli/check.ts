// lampwright check: prints all findings that any command knows of a lamp (document, beam, danger, heat and power); exit status 1 when one
// is severe.
import { availableParallelism } from 'node:os'
import { bySeverity, findingsIn } from '../checks/finding.ts'
import { retainedFromLedger } from '../job/beam/retainedLight.ts'
import { powerFindings, runPower } from '../job/power/run.ts'
import { answerLine } from '../report/answerLine.ts'
import { faceText, lengthWords } from '../report/faceText.ts'
import { dangerWithProgress } from './danger.ts'
import { findingsText } from './findingsText.ts'
import { wrapped } from './format.ts'
import { EXIT, stripControls, type Tools } from './io.ts'
import { openLamp } from './lampFile.ts'
import { onlyPositional, type Parsed, UNITS, unitsOf } from './options.ts'
import { traceWithProgress } from './trace.ts'
import { VERSION } from './version.ts'

export const CHECK_OPTIONS = { json: { type: 'boolean' }, units: UNITS, help: { type: 'boolean' } } as const

/** As many as the danger sheet traces, from the same seed, so that the same place reads the same in both. */
const RAYS = 1_000_000
const WIDTH = 96

export async function checkCommand(parsed: Parsed, tools: Tools): Promise<number> {
  const json = parsed.flags.has('json')
  const system = json ? 'metric' : unitsOf(parsed)
  const lamp = await openLamp(onlyPositional(parsed, 'a lamp file or the name of an example', 'check'))
  const options = { maxRays: RAYS, seed: 1, threads: availableParallelism() }
  const sheet = await traceWithProgress(lamp, options, tools)
  const danger = await dangerWithProgress(lamp, options, tools)
  const power = runPower(lamp, { retained: retainedFromLedger(sheet.ledger) })
  const found = [...sheet.findings, ...danger.findings, ...powerFindings(lamp, power)]
  const findings = findingsIn(bySeverity(found), system)
  const line = answerLine({ lamp, sheet, stale: false, findings, modes: power.modes, danger }, system)
  const lineText = wrapped(stripControls(line.text), WIDTH, '')
  if (parsed.flags.has('json')) tools.io.out(`${JSON.stringify({ version: VERSION, lamp: lamp.name, findings })}\n`)
  else
    tools.io.out(
      `${lineText}\n\n${stripControls(lamp.name)}\n${faceText(lamp.face, lengthWords(system))}\n${findingsText(findings)}\n`,
    )
  return findings.some((f) => f.severity === 'severe') ? EXIT.severe : EXIT.fine
}
