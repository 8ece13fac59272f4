// Colour of the night picture's light.
import { describe, expect, test } from 'vitest'
import {
  colourWords,
  lightColour,
  luminanceOfRgb,
  ringWords,
  tintOf,
  tintOver,
} from '../../../../src/app/night/model/colour.ts'
import { benchCheck, gannetHead } from '../../../../src/library/demos.ts'

describe('colour', () => {
  test('D65 is the screen’s white; a tint has luminance 1; warm is red, cool is blue', () => {
    for (const c of tintOf({ x: 0.3127, y: 0.329 })) expect(c).toBeCloseTo(1, 2)
    const warm = tintOf({ x: 0.4369, y: 0.4041 }) // 3000 K on the black body (CIE 15)
    expect(luminanceOfRgb(warm)).toBeCloseTo(1, 9)
    expect(warm[0]).toBeGreaterThan(1.3)
    expect(warm[2]).toBeLessThan(0.5)
  })
  test('a colour outside the gamut is desaturated, and keeps its luminance', () => {
    const green = tintOf({ x: 0.07, y: 0.83 })
    expect(Math.min(...green)).toBeGreaterThanOrEqual(0)
    expect(luminanceOfRgb(green)).toBeCloseTo(1, 9)
    expect(green[1]).toBe(Math.max(...green))
  })
  test('rings of colour tint the beam over its angle, and are described only where they differ', () => {
    const rings = { thetaDeg: [1, 2, 3, 4], x: [0.35, 0.35, 0.45, 0.45], y: [0.36, 0.36, 0.41, 0.41] }
    const own = lightColour(gannetHead(), null)
    const tint = tintOver({ beamColour: rings, emittedColour: own })
    expect(tint(0)[2]).toBeGreaterThan(tint(4)[2] + 0.2)
    expect(luminanceOfRgb(tint(2.5))).toBeCloseTo(1, 6)
    expect(tintOver({ beamColour: null, emittedColour: own })(3)).toEqual(tintOf(own))
    expect(ringWords(rings, 4)).toMatch(/^4\d\d0 K in the middle, 2\d\d0 K at the edge$/)
    expect(ringWords({ ...rings, x: [0.35, 0.35, 0.35, 0.35], y: [0.36, 0.36, 0.36, 0.36] }, 4)).toBeNull()
  })
  test('the light is the sheet’s own: a mode may light other emitters than the rated lamp', () => {
    const amber = { x: 0.57, y: 0.42 }
    expect(lightColour(gannetHead(), { emittedColour: amber })).toEqual(amber)
    expect(tintOf(lightColour(gannetHead(), { emittedColour: null }))[1]).toBeCloseTo(1, 2) // white where nothing shines
  })
  test('the demo is 5000 K white; a single line has no colour temperature', () => {
    expect(colourWords(lightColour(gannetHead(), null))).toMatch(/^(49|50|51)\d0 K$/)
    expect(colourWords(lightColour(benchCheck(), null))).toMatch(/^x 0\.3\d\d, y 0\.6\d\d$/)
  })
})
