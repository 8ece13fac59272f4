// Finishes of the tunnel's wall: tables over the wavelength, and their means over white light.
import { describe, expect, test } from 'vitest'
import type { Lamp, Spectrum } from '../../src/lamp/schema.ts'
import { tunnel as tunnelSchema } from '../../src/lamp/tunnel.ts'
import { gannetHead } from '../../src/library/demos.ts'
import {
  finishFields,
  meanReflectance,
  WALL_FINISHES,
  wallTakesIn,
  withFinish,
} from '../../src/library/wallFinishes.ts'
import { linear } from '../../src/num/interpolate.ts'

const tunnel = gannetHead().tunnel!

describe('the mean over white light', () => {
  test('of a straight line under equal energy is its middle; of one line of light, the table there', () => {
    const line = [[380, 0.2] as const, [780, 0.6] as const]
    expect(meanReflectance(line, { kind: 'equalEnergy' })).toBe(0.4)
    expect(meanReflectance(line, { kind: 'mono', wavelengthNm: 580 })).toBe(0.4)
    expect(meanReflectance(line, { kind: 'mono', wavelengthNm: 430 })).toBe(0.25)
    expect(meanReflectance([[500, 0.3]])).toBe(0.3)
  })
  test('hangs little on which white', () => {
    for (const f of WALL_FINISHES)
      for (const classK of [3000, 4000, 6500] as const)
        expect(Math.abs(meanReflectance(f.byNm, { kind: 'white', classK }) - f.reflectance)).toBeLessThan(0.02)
  })
})

test('new aluminium as tables of mirrors have it: 0.918, 0.915, 0.911 at 0.50, 0.55, 0.60 µm (second-hand)', () => {
  const { byNm } = WALL_FINISHES.find((f) => f.id === 'aluminised-mirror')!
  const at = (nm: number) =>
    linear(
      byNm.map(([x]) => x),
      byNm.map(([, r]) => r),
      nm,
    )
  expect([500, 550, 600].map(at)).toEqual([0.918, 0.915, 0.911])
})

test('a hot wall is judged by the darkest stretch near by, for the light of the lamp’s own emitters', () => {
  const white = WALL_FINISHES.find((f) => f.id === 'white-paint')!
  const [violet, plain] = [wallFor({ kind: 'mono', wavelengthNm: 400 }), wallFor({ kind: 'mono', wavelengthNm: 550 })]
  const at = (lamp: Lamp, zMm: number) => Number(wallTakesIn(lamp, zMm, 10).toFixed(6))
  // Film of 0.12 on the first 500 mm, white paint from there on: 0.35 at 400 nm, 0.89 at 550 nm.
  expect([100, 489, 491, 900].map((z) => at(violet, z))).toEqual([0.12, 0.12, 0.65, 0.65])
  expect([100, 900].map((z) => at(plain, z))).toEqual([0.12, 0.11])
  // Where both meet the darker counts.
  expect(at(plain, 500)).toBe(0.12)
  expect(wallTakesIn({ ...plain, tunnel: null }, 500, 10)).toBe(0)

  function wallFor(spectrum: Spectrum): Lamp {
    const lamp = gannetHead()
    const joints = [{ zMm: 500, belowMm: 300, aboveMm: 300, ...finishFields(white) }]
    return { ...lamp, emitterTypes: lamp.emitterTypes.map((e) => ({ ...e, spectrum })), tunnel: { ...tunnel, joints } }
  }
})

test('every finish is one that the document takes, with a rising table from 380 to 780 nm and a source', () => {
  for (const f of WALL_FINISHES) {
    expect(tunnelSchema.safeParse(withFinish(tunnel, f)).success).toBe(true)
    const nms = f.byNm.map(([nm]) => nm)
    expect(nms.every((nm, i) => i === 0 || nm > nms[i - 1]!)).toBe(true)
    if (nms.length > 1) expect([nms[0], nms.at(-1)]).toEqual([380, 780])
    expect(f.source.length).toBeGreaterThan(8)
    expect(f.doubtful).toBeGreaterThan(0)
  }
})

test('a stretch takes over all five of its fields and keeps its sizes', () => {
  const film = WALL_FINISHES[0]!
  const { inMm, outMm, zInMm, zOutMm, sides } = tunnel
  expect(withFinish(tunnel, film)).toEqual({ sides, inMm, outMm, zInMm, zOutMm, ...finishFields(film) })
  expect(finishFields(film).finish).toBe('Silvered mirror film')
})
