// The worst-case table in rows of words: what, how much, and in which mode, at which charge and temperature; the same for page and command line.

import { whereWords } from '../checks/powerParts.ts'
import { amps, ampsAtMost, counted, downThree, upThree } from '../checks/words.ts'
import type { PowerReport } from '../electrothermal/result.ts'
import { allInSystem } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import type { WorstPoint } from '../power/worstCase.ts'

export interface WorstRow {
  what: string
  value: string
  /** Where a limit is known that it must stay under. */
  limit: string
  where: string
}

type WorstOf = Pick<PowerReport, 'worst'> & { sink?: Pick<PowerReport['sink'], 'rated'> }

/** Supply first, then a sink by its data sheet, then each kind of channel. Empty for a lamp that draws nothing. */
export function worstRows({ worst, sink }: WorstOf, system: UnitSystem = 'metric'): WorstRow[] {
  if (!(worst.supplyA.value > 0)) return []
  const row = (what: string, point: WorstPoint, unit: string, limit = ''): WorstRow => ({
    what,
    value: `${upThree(point.value)} ${unit}`,
    limit,
    where: whereWords(point, worst.celsius),
  })
  const atRest = 'full supply, at rest'
  const supply = [
    {
      what: 'Supply, volts',
      value: `${downThree(worst.emptyV)} to ${upThree(worst.fullV)} V`,
      limit: '',
      where: 'cut-off to full',
    },
    row('Supply, for a moment', worst.supplyA, 'A'),
    row('Supply, lasting', worst.lastingA, 'A'),
  ]
  const channels = worst.channels.flatMap((c): WorstRow[] => {
    const name = c.ids.length > 1 ? `${counted(c.ids.length, 'channel')} (${c.ids[0]} …)` : (c.ids[0] ?? '')
    if (!(c.outA.value > 0)) return []
    const bears = ampsAtMost(c.maxEmitterA)
    return [
      { what: `${name}: driver, volts in`, value: `${upThree(c.inV.value)} V`, limit: '', where: atRest },
      row(`${name}: driver, current in`, c.inA, 'A'),
      row(`${name}: driver, current out`, c.outA, 'A'),
      row(`${name}: driver, volts out`, c.outV, 'V'),
      row(`${name}: boards, power`, c.outW, 'W'),
      row(`${name}: emitter`, c.emitterA, 'A', bears),
      ...(c.unevenA.value > c.emitterA.value * 1.001
        ? [row(`${name}: emitter of the string that takes most`, c.unevenA, 'A', bears)]
        : []),
      {
        what: `${name}: emitter, its driver failed short`,
        value: amps(c.shortedEmitterA),
        limit: bears,
        where: `${amps(c.shortedA)} through the channel, until a fuse opens; ${atRest}, junctions at their limit`,
      },
    ]
  })
  return allInSystem([...supply, ...sinkRows(worst, sink?.rated ?? null), ...channels], system)
}

/** No more heat than the boards' power can reach the sink. */
function sinkRows({ channels }: PowerReport['worst'], rated: PowerReport['sink']['rated']): WorstRow[] {
  if (!rated) return []
  const watts = channels.reduce((sum, c) => sum + c.ids.length * c.outW.value, 0)
  return [
    {
      what: 'Sink, heat at most',
      value: `${upThree(watts)} W`,
      limit: rated.maxW === undefined ? '' : `${downThree(rated.maxW)} W`,
      where: 'all boards at their most, their light counted as heat',
    },
  ]
}
