// The air that a fan drives through the channels between fins: where its curve meets what the channels resist.
// Laminar developing flow between plates, Fanning friction f·Re = √((3.44/√x)² + 24²), x = L/(D Re) (Muzychka and Yovanovich 1998, the
// form of Teertstra, Yovanovich and Culham 2000; from memory); inlet 0.42 (1 − σ²) and outlet (1 − σ²)², σ = s/(s + t)
// (White, Fluid Mechanics, § 6.9).
import type { Cooling, Sink } from '../lamp/schema.ts'
import { linear } from '../num/interpolate.ts'
import { brent } from '../num/roots.ts'
import { type Air, airAt } from './air.ts'

type Fan = Extract<Cooling['air'], { kind: 'fan' }>
type Fins = Extract<Sink, { kind: 'fins' }>

/**
 * Pressure drop, Pa, of a channel between fins (sizes mm) of length lengthM (m) at a mean speed in m/s; 0 for no
 * speed. Muzychka and Yovanovich 1998; ends by White, § 6.9. Laminar flow only.
 */
export function channelPressureDropPa(fins: Fins, lengthM: number, speedMS: number, air: Air): number {
  if (speedMS <= 0) return 0
  const [s, h] = [fins.spacingMm / 1000, fins.heightMm / 1000]
  const diameter = (2 * s * h) / (s + h)
  const re = (speedMS * diameter) / air.kinematic
  const friction = Math.hypot(3.44 / Math.sqrt(lengthM / (diameter * re)), 24) / re
  const open = fins.spacingMm / (fins.spacingMm + fins.thicknessMm)
  const ends = 0.42 * (1 - open * open) + (1 - open * open) ** 2
  return ((4 * friction * lengthM) / diameter + ends) * 0.5 * air.densityKgM3 * speedMS ** 2
}

/**
 * Speed between the fins, m/s, where the fan's curve (m³/h over Pa) meets the channels' pressure drop in air of
 * ambientC °C. Where the curve's last point still gives more pressure, that point's flow; before its first point the
 * curve is taken as flat (real ones rise: the hotter side). 0 for a curve without pressure.
 */
export function fanSpeedMS({ curve }: Fan, fins: Fins, lengthM: number, ambientC: number): number {
  const air = airAt(ambientC)
  const section = (Math.max(1, fins.count - 1) * fins.spacingMm * fins.heightMm) / 1e6
  const [flows, pressures] = [curve.map((r) => r.flowM3h), curve.map((r) => r.pascal)]
  const speedOf = (flow: number) => flow / 3600 / section
  const over = (flow: number) =>
    linear(flows, pressures, flow) - channelPressureDropPa(fins, lengthM, speedOf(flow), air)
  const most = flows[flows.length - 1] ?? 0
  if (over(most) >= 0) return speedOf(most)
  return speedOf(brent(over, 0, most, most * 1e-9) ?? 0)
}

/** Flow, m³/h, at which the fan's pressure is used up: the first point of its curve without pressure, else its last. */
export const freeFlowM3h = ({ curve }: Fan): number =>
  (curve.find((r) => r.pascal === 0) ?? curve[curve.length - 1])?.flowM3h ?? 0
