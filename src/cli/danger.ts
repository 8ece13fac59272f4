// lampwright danger: the danger sheet as text or JSON.

import { availableParallelism } from 'node:os'
import { findingsIn } from '../checks/finding.ts'
import type { DangerReading, DangerStage } from '../job/danger/result.ts'
import type { Lamp } from '../lamp/schema.ts'
import { dangerJson } from './dangerJson.ts'
import { dangerText } from './dangerText.ts'
import { type DangerReader, EXIT, type Tools } from './io.ts'
import { openLamp } from './lampFile.ts'
import { onlyPositional, type Parsed, UNITS, unitsOf, wholeNumber } from './options.ts'
import { progressOn } from './progress.ts'
import { severeLine } from './severeLine.ts'
import { VERSION } from './version.ts'

export const DANGER_OPTIONS = {
  rays: { type: 'string', value: 'N' },
  seed: { type: 'string', value: 'S' },
  threads: { type: 'string', value: 'T' },
  json: { type: 'boolean' },
  units: UNITS,
  help: { type: 'boolean' },
} as const

const STAGE_WORDS: Record<DangerStage, string> = {
  beam: 'the beam',
  front: 'what is in front, and eyes',
  sun: 'the sun from every side',
}

export async function dangerCommand(parsed: Parsed, { io, danger }: Tools): Promise<number> {
  const name = onlyPositional(parsed, 'a lamp file or the name of an example', 'danger')
  const options = {
    maxRays: wholeNumber(parsed, 'rays', { from: 16, to: 1e9, otherwise: 1_000_000 }),
    seed: wholeNumber(parsed, 'seed', { from: 0, to: 2 ** 32 - 1, otherwise: 1 }),
    threads: wholeNumber(parsed, 'threads', { from: 0, to: 256, otherwise: availableParallelism() }),
  }
  const system = unitsOf(parsed)
  const lamp = await openLamp(name)
  const reading = await dangerWithProgress(lamp, options, { io, danger })
  if (parsed.flags.has('json')) io.out(`${JSON.stringify(dangerJson(reading, VERSION))}\n`)
  else io.out(dangerText(reading, lamp, system))
  io.err(severeLine(findingsIn(reading.findings, system)))
  return EXIT.fine
}

/** The danger sheet, with a progress bar on stderr. */
export async function dangerWithProgress(
  lamp: Lamp,
  options: Parameters<DangerReader>[1],
  { io, danger }: Pick<Tools, 'io' | 'danger'>,
): Promise<DangerReading> {
  let now: DangerStage = 'beam'
  const progress = progressOn(io, () => STAGE_WORDS[now])
  try {
    return await danger(lamp, options, (stage, share) => {
      now = stage
      progress.show({ rays: share, maxRays: 1 })
    })
  } finally {
    progress.end()
  }
}
