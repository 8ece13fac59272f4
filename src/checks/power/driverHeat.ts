// A driver that loses more heat than it can give off by itself.
import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { type Finding, partOf } from '../finding.ts'
import { type PowerParts, whereWords } from '../powerParts.ts'
import { counted, plain, upThree } from '../words.ts'

/** A converter on a bare board in still air gives off less (common practice, no source). */
const BARE_BOARD_W = 10

export function driverHeat(lamp: Lamp, { worst }: PowerParts): Finding[] {
  if (!lamp.power) return []
  const { drivers } = powerOf(lamp).value
  return worst.channels.flatMap((c): Finding[] => {
    const driver = drivers.find((d) => d.id === c.driverId)
    const n = c.ids.length
    const lostW = c.driverW.value
    if (!driver || !(lostW > BARE_BOARD_W)) return []
    const linear = driver.kind === 'linear'
    return [
      {
        rule: 'driver-heat',
        severity: 'warning',
        title: `“${driver.name}” turns up to ${upThree(lostW)} W into heat${n > 1 ? ` in each of ${counted(n, 'channel')}, ${upThree(n * lostW)} W in all` : ''}: it needs a sink of its own.`,
        why: `${linear ? 'A linear driver burns the difference between supply and string.' : `Of what it draws, ${plain(100 * (1 - driver.efficiency))} % stay in it.`} Over ${BARE_BOARD_W} W a bare board in still air overheats (common practice, no source). Where this heat goes isn’t computed: plate, wires and pack count as not warmed by it. Worst: ${whereWords(c.driverW, worst.celsius)}.`,
        cure: `${linear ? 'A switching driver, a supply closer to the string’s voltage, or a' : 'A'} sink for each driver, away from the pack; on the lamp’s plate it adds to the plate’s heat.`,
        place: { kind: 'part', part: 'heat' },
        parts: [partOf({ kind: 'driver', id: c.driverId })],
      },
    ]
  })
}
