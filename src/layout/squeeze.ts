// Discs in a round face beyond what lattices and rings hold: start from a rough set with one disc more, push overlapping discs
// apart, and see whether they settle without overlap. Seeded, so the same face always gets the same layout.
import { seededRandom } from '../num/rng.ts'

/**
 * Places of `n` discs of diameter 1 (clearance included) whose centres lie within `radius`; null when no start settles.
 * Overlap energy Σ (1 − d)² + Σ (r − radius)² is brought to zero by gradient steps with momentum that restarts uphill.
 */
export function squeeze(n: number, radius: number, starts: number, seed: number): [number, number][] | null {
  const random = seededRandom(seed)
  for (let s = 0; s < starts; s++) {
    const x = new Float64Array(2 * n)
    for (let i = 0; i < n; i++) {
      const r = radius * Math.sqrt(random())
      const at = 2 * Math.PI * random()
      x[2 * i] = r * Math.cos(at)
      x[2 * i + 1] = r * Math.sin(at)
    }
    if (relax(x, radius)) return Array.from({ length: n }, (_, i) => [x[2 * i]!, x[2 * i + 1]!])
  }
  return null
}

/** Largest overlap that counts as none, in disc diameters. */
const TOUCH = 1e-7

function relax(x: Float64Array, radius: number): boolean {
  const gradient = new Float64Array(x.length)
  const speed = new Float64Array(x.length)
  let [energyAt200, step] = [Number.POSITIVE_INFINITY, 0.2]
  for (let turn = 0; turn < 4000; turn++) {
    const { energy, worst } = computeForces(x, radius, gradient)
    if (worst < TOUCH) return true
    let along = 0
    for (let i = 0; i < x.length; i++) along += speed[i]! * gradient[i]!
    if (along < 0) {
      speed.fill(0)
      step = Math.max(0.1, step * 0.7)
    } else step = Math.min(0.24, step * 1.02)
    for (let i = 0; i < x.length; i++) {
      speed[i] = 0.95 * speed[i]! + step * gradient[i]!
      x[i]! += speed[i]!
    }
    if (turn % 200 === 199) {
      // Stuck at an energy that doesn't vanish: these discs are jammed.
      if (energy > 0.5 * energyAt200) return false
      energyAt200 = energy
    }
  }
  return false
}

/** Downhill direction into `out`. */
function computeForces(x: Float64Array, radius: number, out: Float64Array): { energy: number; worst: number } {
  out.fill(0)
  let [energy, worst] = [0, 0]
  for (let i = 0; i < x.length; i += 2) {
    const r = Math.hypot(x[i]!, x[i + 1]!)
    if (r > radius) {
      const over = r - radius
      energy += over * over
      worst = Math.max(worst, over)
      out[i]! -= (over * x[i]!) / r
      out[i + 1]! -= (over * x[i + 1]!) / r
    }
    for (let j = i + 2; j < x.length; j += 2) {
      const dx = x[i]! - x[j]!
      const dy = x[i + 1]! - x[j + 1]!
      const d2 = dx * dx + dy * dy
      if (d2 >= 1) continue
      const d = Math.sqrt(d2)
      const over = 1 - d
      energy += over * over
      worst = Math.max(worst, over)
      const ux = d > 0 ? dx / d : 1
      const uy = d > 0 ? dy / d : 0
      out[i]! += over * ux
      out[i + 1]! += over * uy
      out[j]! -= over * ux
      out[j + 1]! -= over * uy
    }
  }
  return { energy, worst }
}
