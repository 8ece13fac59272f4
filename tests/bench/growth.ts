// How the cost of a ray grows with emitters and with grooves, side by side in one process: nanoseconds a ray, medians, and the ratio to the first.

import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { gridPlaces } from '../../src/num/places.ts'
import { speedOf } from './speed.ts'

export interface Growth {
  what: string
  count: number
  nsPerRay: number
  ratio: number
}

/** The searchlight with its 133 emitters' light spread over `count` emitters of a grid on the same face. */
export function withEmitters(count: number): Lamp {
  const lamp = gannetHead()
  const side = Math.ceil(Math.sqrt(count))
  const pitch = 120 / side
  const sites = gridPlaces(side, side, pitch, pitch).slice(0, Math.min(count, 400))
  const boards = Math.ceil(count / sites.length)
  const type = { ...lamp.boardTypes[0]!, sites }
  return {
    ...lamp,
    boardTypes: [type],
    boards: Array.from({ length: boards }, (_, i) => ({ ...lamp.boards[0]!, id: `B${i}`, xMm: (i % 5) * 0.1, yMm: 0 })),
  }
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
