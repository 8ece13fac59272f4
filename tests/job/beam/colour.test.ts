import { describe, expect, test } from 'vitest'
import { readBeamColour } from '../../../src/job/beam/colour.ts'
import { chromaticity } from '../../../src/library/colour.ts'
import { spectrumPower } from '../../../src/library/spectra.ts'
import { EXIT_STRIDE, type ExitRays, type Run } from '../../../src/run/types.ts'

/** Rays evenly spread in angle up to 10°, of the wavelength that `nm` gives. */
function runOf(count: number, nm: (thetaDeg: number, i: number) => number, dz = 1): Run {
  const data = new Float32Array(count * EXIT_STRIDE)
  for (let i = 0; i < count; i++) {
    const thetaDeg = (10 * (i + 0.5)) / count
    const theta = (thetaDeg * Math.PI) / 180
    data.set([0, 0, 0, Math.sin(theta), 0, dz * Math.cos(theta), 1, 1, nm(thetaDeg, i)], i * EXIT_STRIDE)
  }
  const exits: ExitRays = { count, fromRays: count, data, batch: new Uint8Array(count) }
  return { exits } as Run
}

describe('colour over angle', () => {
  test('red inside 5°, blue beyond: rings tell, from the inside out', () => {
    const read = readBeamColour(runOf(40_000, (deg) => (deg < 5 ? 620 : 460)))!
    const half = read.x.length / 2
    expect(read.thetaDeg[0]).toBeLessThan(2.5)
    for (let i = 1; i < read.thetaDeg.length; i++) expect(read.thetaDeg[i]).toBeGreaterThan(read.thetaDeg[i - 1]!)
    expect(read.x[0]).toBeGreaterThan(0.65)
    expect(read.x.at(-1)).toBeLessThan(0.17)
    expect(half).toBeGreaterThan(1)
  })
  test('each ray is in the bin of its own angle, up to 90°', () => {
    const turn = (i: number) => Math.PI * 0.5 * ((i + 0.5) / 40_000) ** 2
    const { exits } = runOf(40_000, (_, i) => 400 + (i % 300))
    for (let i = 0; i < exits.count; i++) exits.data.set([Math.sin(turn(i)), 0, Math.cos(turn(i))], i * EXIT_STRIDE + 3)
    const read = readBeamColour({ exits })!
    // Rings of 8000 rays or a few more, closed at the end of a bin: 4096 bins, even in √(θ/π), with θ as single precision has the direction.
    const means: number[] = []
    let [rays, sum] = [0, 0]
    for (let i = 0, bin = 0; i < exits.count; i++) {
      const at = i * EXIT_STRIDE
      const theta = Math.atan2(exits.data[at + 3]!, exits.data[at + 5]!)
      const own = Math.floor(Math.sqrt(theta / Math.PI) * 4096)
      if (own !== bin && rays >= 8000) {
        means.push(sum / rays)
        rays = sum = 0
      }
      bin = own
      rays++
      sum += 180 * ((own + 0.5) / 4096) ** 2
    }
    if (rays >= 8000) means.push(sum / rays)
    expect([...read.thetaDeg]).toEqual([...Float32Array.from(means)])
  })
  test('a spectrum drawn ray by ray gives its own chromaticity', () => {
    const power = spectrumPower({ kind: 'white', classK: 4000 })
    const sum = power.reduce((a, b) => a + b)
    // The inverse of the running sum at golden-section steps, so that each ring sees the whole spectrum.
    const drawn = (i: number) => {
      let u = ((i * 0.6180339887) % 1) * sum
      let k = 0
      while (k < 80 && u > power[k]!) u -= power[k++]!
      return 380 + 5 * k
    }
    const read = readBeamColour(runOf(40_000, (_, i) => drawn(i)))!
    const own = chromaticity(power)
    for (let i = 0; i < read.x.length; i++) {
      expect(read.x[i]).toBeCloseTo(own.x, 2)
      expect(read.y[i]).toBeCloseTo(own.y, 2)
    }
  })
  test('too few rays, or none towards the target, say nothing', () => {
    expect(readBeamColour(runOf(10_000, () => 550))).toBeNull()
    expect(readBeamColour(runOf(40_000, () => 550, -1))).toBeNull()
  })
})
