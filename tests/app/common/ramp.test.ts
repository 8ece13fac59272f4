import { expect, test } from 'vitest'
import {
  linearFromOklab,
  oklabFromHex,
  oklabFromLinear,
  RAMP,
  RAMP_SIZE,
  rampCss,
  rampOklab,
} from '../../../src/app/common/ramp.ts'

const hexAt = (i: number) => `#${[0, 1, 2].map((c) => RAMP[3 * i + c]!.toString(16).padStart(2, '0')).join('')}`

test('OKLab of white is (1, 0, 0) and of red as published by Ottosson, 2020 (values from memory)', () => {
  const white = oklabFromHex('#ffffff')
  expect(white[0]).toBeCloseTo(1, 4)
  expect(Math.hypot(white[1], white[2])).toBeLessThan(1e-4)
  const red = oklabFromHex('#ff0000')
  expect(red[0]).toBeCloseTo(0.628, 3)
  expect(red[1]).toBeCloseTo(0.2249, 3)
  expect(red[2]).toBeCloseTo(0.1258, 3)
})

test('there and back', () => {
  const back = linearFromOklab(oklabFromLinear([0.2, 0.5, 0.7]))
  expect(back[0]).toBeCloseTo(0.2, 5)
  expect(back[1]).toBeCloseTo(0.5, 5)
  expect(back[2]).toBeCloseTo(0.7, 5)
})

test('lightness rises strictly and evenly from dark to near white', () => {
  const L = Array.from({ length: RAMP_SIZE }, (_, i) => oklabFromHex(hexAt(i))[0])
  const step = (L[RAMP_SIZE - 1]! - L[0]!) / (RAMP_SIZE - 1)
  // Bytes round: a step may be off by a third of itself, no more.
  for (let i = 1; i < RAMP_SIZE; i++) expect(L[i]! - L[i - 1]!).toBeGreaterThan(0)
  for (let i = 8; i < RAMP_SIZE; i++) expect(Math.abs((L[i]! - L[i - 8]!) / (8 * step) - 1)).toBeLessThan(0.25)
  expect(L[0]).toBeLessThan(0.26)
  expect(L[RAMP_SIZE - 1]).toBeGreaterThan(0.97)
})

test('every colour of the ramp is inside sRGB', () => {
  for (let i = 0; i <= 200; i++) {
    for (const c of linearFromOklab(rampOklab(i / 200))) {
      expect(c).toBeGreaterThan(-0.002)
      expect(c).toBeLessThan(1.002)
    }
  }
})

test('ends are clamped', () => {
  expect(rampCss(-1)).toBe(rampCss(0))
  expect(rampCss(2)).toBe(rampCss(1))
})
