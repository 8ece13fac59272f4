// What flows for an instant: into a short circuit, and into the drivers' capacitors when the main switch closes. Ohm's law without the
// wires' inductance and the capacitors' own resistance: upper bounds.
import type { Group, Power } from '../lamp/schema.ts'
import { groupOhm } from './channels.ts'
import { makeSource } from './supply.ts'
import { loopOhm } from './wire.ts'

/** Capacitance across a driver's input where its document names none, µF (common practice, no source). */
const TYPICAL_MICROFARAD = 220
/** Wires of the short circuit are cool, °C: less resistance, more current. */
const COOL_C = 20
/** A capacitor is charged to 99 % after five time constants: 1 − e⁻⁵. */
const CHARGED_AFTER = 5

export interface FaultCurrents {
  /** Into a short circuit at the supply's terminals, and at the branching place, A; null: not known. */
  supplyA: number | null
  branchA: number | null
}

/**
 * Prospective short-circuit current, A: of a pack its full open voltage over the resistance of its cells, and of the main
 * wires; of a fixed supply what its document says. Null where neither is known (no resistance in the document).
 */
export function faultCurrents(power: Power): FaultCurrents {
  const { supply, harness } = power
  const source = makeSource(supply)
  const mainOhm = coolMainOhm(harness)
  const fullV = source.openV(1)
  if (supply.kind === 'fixed') {
    const { shortA } = supply
    if (shortA === undefined) return { supplyA: null, branchA: null }
    return { supplyA: shortA, branchA: mainOhm > 0 ? Math.min(shortA, fullV / mainOhm) : shortA }
  }
  const over = (ohm: number) => (ohm > 0 ? fullV / ohm : null)
  return { supplyA: over(source.ohm), branchA: over(source.ohm + mainOhm) }
}

export interface Inrush {
  /** Of all drivers together, F. */
  farad: number
  /** Some driver's document names no capacitance: a typical one is taken. */
  typical: boolean
  /** Through the closing contacts, A: without a pre-charge, and through it; null: no resistance is known. */
  peakA: number | null
  prechargeA: number | null
  /** Until the capacitors are charged to 99 % through the pre-charge, s. */
  prechargeS: number | null
  /** Stored in the capacitors, J. */
  joule: number
}

/**
 * Charging current of all drivers' capacitors from the full supply at once: V/R in A, ½ C V² in J, 5 R C in s.
 * `driverIds`: the driver of each channel. `group`: through its relay and wires, when that relay closes on the full supply.
 */
export function inrushOf(power: Power, driverIds: readonly string[], group?: Group): Inrush {
  const { supply, harness, drivers } = power
  const source = makeSource(supply)
  const fullV = source.openV(1)
  const each = driverIds.map((id) => drivers.find((d) => d.id === id)?.inputMicrofarad)
  const farad = each.reduce<number>((sum, c) => sum + (c ?? TYPICAL_MICROFARAD) / 1e6, 0)
  const ohm = source.ohm + coolMainOhm(harness) + (group ? groupOhm(group, harness, COOL_C) : 0)
  // That of the main contactor is past by the time a relay closes.
  const precharge = group ? undefined : harness.contactor?.prechargeOhm
  return {
    farad,
    typical: each.includes(undefined),
    peakA: farad === 0 ? 0 : ohm > 0 ? fullV / ohm : null,
    prechargeA: precharge === undefined ? null : fullV / (ohm + precharge),
    prechargeS: precharge === undefined ? null : CHARGED_AFTER * (ohm + precharge) * farad,
    joule: (farad * fullV ** 2) / 2,
  }
}

const coolMainOhm = (harness: Power['harness']): number =>
  loopOhm(harness.main, harness.connectorMilliohm, COOL_C) + (harness.contactor?.milliohm ?? 0) / 1000
