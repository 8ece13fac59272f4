// How the cost of a ray grows with emitters and with grooves, side by side in one process: nanoseconds a ray, medians, and the ratio to the first.

import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { speedOf } from './speed.ts'

export interface Growth {
  what: string
  count: number
  nsPerRay: number
  ratio: number
}

const FACE_RADIUS_MM = 60
/** Of a turn: what lays any number of points evenly over a disc (H. Vogel, A better way to construct the sunflower head, Mathematical Biosciences 44, 1979). */
const GOLDEN = (3 - Math.sqrt(5)) / 2

/**
 * The searchlight's light from `count` emitters, evenly over the same disc whatever their number: what a ray meets must not differ with it. Its
 * mean square distance from the axis is half the radius squared for every count.
 */
export function withEmitters(count: number): Lamp {
  const lamp = gannetHead()
  const sites = Array.from({ length: count }, (_, i) => {
    const r = FACE_RADIUS_MM * Math.sqrt((i + 0.5) / count)
    const phi = 2 * Math.PI * GOLDEN * i
    return { xMm: r * Math.cos(phi), yMm: r * Math.sin(phi) }
  })
  const type = { ...lamp.boardTypes[0]!, sites }
  return { ...lamp, boardTypes: [type], boards: [{ ...lamp.boards[0]!, xMm: 0, yMm: 0 }] }
}

export function withGrooves(count: number): Lamp {
  const lamp = gannetHead()
  if (lamp.lens?.kind !== 'fresnel') return lamp
  return { ...lamp, lens: { ...lamp.lens, pitchMm: lamp.lens.diameterMm / 2 / count } }
}

export function growth(): Growth[] {
  const rows = (what: string, counts: number[], make: (n: number) => Lamp) => {
    const ns = counts.map((n) => 1e9 / speedOf(make(n)).raysPerSecond)
    return counts.map((count, i) => ({
      what,
      count,
      nsPerRay: Math.round(ns[i]!),
      ratio: Math.round((ns[i]! / ns[0]!) * 100) / 100,
    }))
  }
  return [
    ...rows('emitters', [7, 100, 1000, 10_000], withEmitters),
    ...rows('grooves', [100, 500, 1000, 4000], withGrooves),
  ]
}
