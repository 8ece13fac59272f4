// The heat that drivers lose: with its amount always, for it enters no temperature but the plate's, and that only where the document says
// so.

import type { Driver, Lamp } from '../../lamp/schema.ts'
import { lostKWm2 } from '../../library/heatBalance.ts'
import { powerOf } from '../../library/typicalPower.ts'
import type { WorstChannel } from '../../power/worstCase.ts'
import { type Finding, partOf } from '../finding.ts'
import { leftOnReason, namesByMost, type PowerParts, topsOf, whereWords } from '../powerParts.ts'
import { apart, celsius, counted, degreesC, plain, surfaceUp, upThree } from '../words.ts'

/** From here on a bare board needs a sink in any case: 220 cm² of it (the balance below) are more than boards have. */
const BARE_BOARD_W = 10
/** All drivers together: less than this nobody feels. */
const LEAST_W = 1
/** Over the air: usual boards bear it (common practice, no source). */
const RISE_K = 40
/** Usual upper category temperature of electrolytic capacitors; 105 °C is the better class (IEC 60384-4: memory). */
const CAPACITOR_C = 85

const place = { kind: 'part', part: 'heat' } as const

export function driverHeat(lamp: Lamp, parts: PowerParts): Finding[] {
  if (!lamp.power) return []
  const { drivers } = powerOf(lamp).value
  const rows = parts.worst.channels.flatMap((c) => {
    const driver = drivers.find((d) => d.id === c.driverId)
    return driver ? [{ driver, c, lostW: c.driverW.value }] : []
  })
  const elsewhere = rows.filter((r) => r.driver.mounted !== 'plate')
  const hot = elsewhere.filter((r) => r.lostW > BARE_BOARD_W)
  return [
    ...hot.map((r) => needsSink(lamp, parts, r)),
    ...unplaced(lamp, hot.length > 0 ? [] : elsewhere),
    ...onHotPlate(
      rows.filter((r) => r.driver.mounted === 'plate').map((r) => r.driver),
      parts,
    ),
  ]
}

interface Row {
  driver: Driver
  c: WorstChannel
  lostW: number
}

/** Surface, cm², by which so many W leave at a rise of `RISE_K`: radiation and still air. */
const surfaceCm2 = (watts: number, ambientC: number): number => (10 * watts) / lostKWm2(ambientC + RISE_K, { ambientC })

const surfaceWords = ({ reading: { ambientC } }: Lamp, watts: number): string =>
  `To stay ${apart(RISE_K)} over the air it needs ${surfaceUp(surfaceCm2(watts, ambientC))} of free surface, both sides of its board counted (radiation and 5 W/m²K of still air; what a board may warm by: common practice, no source).`

const NOT_COMPUTED =
  'Where this heat goes isn’t computed, nor the driver’s own temperature: plate, wires and pack count as not warmed by it.'

function needsSink(lamp: Lamp, { worst }: PowerParts, { driver, c, lostW }: Row): Finding {
  const n = c.ids.length
  const linear = driver.kind === 'linear'
  return {
    rule: 'driver-heat',
    severity: 'warning',
    title: `“${driver.name}” turns up to ${upThree(lostW)} W into heat${n > 1 ? ` in each of ${counted(n, 'channel')}, ${upThree(n * lostW)} W in all` : ''}: it needs a sink of its own.`,
    why: `${linear ? 'A linear driver burns the difference between supply and string.' : `Of what it draws, ${plain(100 * (1 - driver.efficiency))} % stay in it.`} ${surfaceWords(lamp, lostW)} ${NOT_COMPUTED} Worst: ${whereWords(c.driverW, worst.celsius)}.`,
    cure: `${linear ? 'A switching driver, a supply closer to the string’s voltage, or a' : 'A'} sink for each driver, away from the pack; one that is mounted on the lamp’s plate says so in the document, and adds to the plate’s heat.`,
    place,
    parts: [partOf({ kind: 'driver', id: c.driverId })],
  }
}

/** None loses so much that it needs a sink in any case. */
function unplaced(lamp: Lamp, rows: readonly Row[]): Finding[] {
  const allW = rows.reduce((sum, r) => sum + r.c.ids.length * r.lostW, 0)
  const worst = rows.reduce<Row | null>((a, b) => (a && a.lostW >= b.lostW ? a : b), null)
  if (!worst || !(allW > LEAST_W)) return []
  const n = rows.reduce((sum, r) => sum + r.c.ids.length, 0)
  return [
    {
      rule: 'driver-heat',
      severity: 'note',
      title: `${counted(n, 'driver')} ${n > 1 ? 'lose' : 'loses'} up to ${upThree(worst.lostW)} W${n > 1 ? ` each, ${upThree(allW)} W in all` : ''}: where it goes isn’t computed.`,
      why: `${surfaceWords(lamp, worst.lostW)} In a closed case all of them warm one another. ${NOT_COMPUTED}`,
      cure: 'Give them air or a metal wall, away from the pack. One that is mounted on the lamp’s plate says so in the document: then its heat counts there.',
      place,
      parts: [...new Set(rows.map((r) => r.c.driverId))].map((id) => partOf({ kind: 'driver', id })),
    },
  ]
}

/** On the plate a driver is at least as warm as it. */
function onHotPlate(drivers: readonly Driver[], { modes }: PowerParts): Finding[] {
  const top = (m: (typeof modes)[number]) => topsOf(m, (c) => c.plateMaxC).top
  const hot = modes.filter((m) => top(m) > CAPACITOR_C)
  if (drivers.length === 0 || hot.length === 0) return []
  const names = [...new Set(drivers.map((d) => `“${d.name}”`))].join(', ')
  const topC = Math.max(...hot.map(top))
  return [
    {
      rule: 'driver-on-hot-plate',
      severity: 'warning',
      title: `${names} on a plate that gets to ${celsius(topC)} in ${namesByMost(hot, top, celsius)}: usual capacitors bear ${degreesC(CAPACITOR_C)}, better ones ${degreesC(105)}.`,
      why: `${leftOnReason(hot)}A driver on the plate is as warm as it, and warmer by its own losses, which count as spread over all of the plate. Over their temperature its capacitors dry out, it fails, often short, and the full supply stands across the boards. IEC 60384-4: memory; the driver’s own data come first.`,
      cure: 'Mount it away from the plate, choose one for this temperature, or step down earlier.',
      place,
      parts: [...new Set(drivers.map((d) => d.id))].map((id) => partOf({ kind: 'driver', id })),
    },
  ]
}
