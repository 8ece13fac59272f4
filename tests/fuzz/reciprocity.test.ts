// What one mouth of a mirrored horn sends to the other, it gets back: A₁ F₁₂ = A₂ F₂₁ for Lambertian mouths and walls that are mirrors
// or Lambertian (E. M. Sparrow, R. D. Cess, Radiation Heat Transfer, ch. on configuration factors; chapter from memory).
import { describe, test } from 'vitest'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { dice } from '../kit/randomLamp.ts'
import { deliveredShare, oneEmitter, traceHere, tube } from '../kit/traceHere.ts'

describe('horn, both ways', () => {
  test.each(seeds(amount(8, 32)))('seed %i', (seed) => {
    const d = dice(seed + 500)
    const [r1, r2, length] = [d.between(5, 30), d.between(5, 30), d.between(10, 80)]
    const wall = { reflectance: d.between(0.3, 0.98), specularShare: d.pick([0, 0.5, 1]) }
    const through = (from: number, to: number) =>
      deliveredShare(
        traceHere(
          oneEmitter({
            source: { shape: 'disc', diameterMm: 2 * from },
            tunnel: tube(from, length, { ...wall, outMm: 2 * to }),
            faceSizeMm: 200,
          }),
          { rays: 1 << 14, seed },
        ),
      )
    const there = through(r1, r2)
    const back = through(r2, r1)
    const ratio = (r1 / r2) ** 2
    expectWithin(back.value, ratio * there.value, {
      sigmas: 4,
      se: Math.hypot(back.se, ratio * there.se),
    })
  })
})
