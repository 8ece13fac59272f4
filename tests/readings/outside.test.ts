import { expect, test } from 'vitest'
import { addOutside, type TracedLight } from '../../src/readings/outside.ts'

// A Lambertian source, I₀ cos θ: π I₀ sin² of the half angle within a cone (check values 1.20, 1.21), so that 45° hold half of it.
const thetaDeg = Array.from({ length: 901 }, (_, i) => i / 10)
const lambertian: TracedLight = {
  thetaDeg,
  cd: thetaDeg.map((deg) => 1000 * Math.cos((deg * Math.PI) / 180)),
  fluxOutLm: { value: 1000 * Math.PI, se: 0 },
  apertureReachMm: 0,
}

test('light beside the cone is the traced one, scaled by what was read within', () => {
  // Read within 45°: 20 % less than half of π I₀.
  const found = addOutside({ value: 0.8 * 500 * Math.PI, u: 40 }, 45, 10, lambertian)
  expect(found?.outside.value).toBeCloseTo(0.8 * 500 * Math.PI, 1)
  expect(found?.all.value).toBeCloseTo(0.8 * 1000 * Math.PI, 1)
  // The same share of doubt as what was read, and of all twice the lumens.
  expect(found?.all.u).toBeCloseTo(80, 3)
})

test('a wide lens before a near wall leaves the angle open', () => {
  // 0.5 m of reach at 5 m: 5.71°. By hand sin² 50.71° − sin² 39.29° = sin 90° · sin 11.42° = 0.19802; half of it, rectangular.
  const found = addOutside({ value: 500 * Math.PI, u: 0 }, 45, 5, { ...lambertian, apertureReachMm: 500 })
  expect(found?.outside.u).toBeCloseTo((1000 * Math.PI * 0.19802) / 2 / Math.sqrt(3), 0)
})

test('nothing traced within the cone, nothing read: no figure', () => {
  expect(addOutside({ value: 10, u: 1 }, 45, 5, { ...lambertian, cd: thetaDeg.map(() => 0) })).toBeNull()
  expect(addOutside({ value: 0, u: 1 }, 45, 5, lambertian)).toBeNull()
})
