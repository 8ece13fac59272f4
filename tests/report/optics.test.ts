// The way of the light in words.
import { expect, test } from 'vitest'
import type { Lamp } from '../../src/lamp/schema.ts'
import { concentratorTunnel } from '../../src/layout/reflectors.ts'
import { gannetHead, stileLamp } from '../../src/library/demos.ts'
import { binLamp, slipLight } from '../../src/library/demosAssembled.ts'
import { elementLines, tunnelWords } from '../../src/report/optics.ts'

test('stretches with their finishes, and the step between them', () => {
  expect(tunnelWords(binLamp())).toEqual([
    'Stretch from 14 to 520 mm, rectangular, 344 × 344 mm to 464 × 340 mm: Aluminium foil tape, sends back 82.8 % (mean over white light), 60 % of it as from a mirror blurred by 6°.',
    'Step at 520 mm from 464 × 340 mm to 470 × 344 mm.',
    'Stretch from 520 to 560 mm, rectangular, 470 × 344 mm to 470 × 344 mm: Bare galvanised steel, new, sends back 59.7 % (mean over white light), 30 % of it as from a mirror blurred by 10°.',
  ])
  expect(tunnelWords(slipLight())[0]).toMatch(/^Stretch from 14 to 130 mm, rectangular, 150 × 84 mm to 300 × 110 mm:/)
  expect(tunnelWords(stileLamp())).toEqual(['No tunnel.'])
})

test('many stretches of one curve are one line; another finish begins a line of its own', () => {
  const finish = { reflectance: 0.9, specularShare: 0, scatterDeg: 0 }
  const made = concentratorTunnel({ acceptanceDeg: 30, inMm: 20, zInMm: 5, keptShare: 1, sides: 6, finish })
  if (!made.ok) throw new Error(made.why)
  const lamp: Lamp = { ...gannetHead(), tunnel: made.tunnel }
  expect(tunnelWords(lamp)).toEqual([
    expect.stringMatching(
      /^1\d\d stretches of one curve from 5 to 56\.96 mm, 6 sides, 20 mm to 40 mm: sends back 90 %, in all directions\.$/,
    ),
  ])
  const joints = made.tunnel.joints!.map((j, i) => (i < 100 ? j : { ...j, reflectance: 0.5 }))
  expect(tunnelWords({ ...lamp, tunnel: { ...made.tunnel, joints } })).toHaveLength(2)
})

test('lens pieces, covers and films, how they stand and what they are of', () => {
  expect(elementLines(binLamp())).toEqual([
    'Fresnel lens at 568 to 571 mm, 500 × 350 mm cut from a lens of 635.1 mm with its optical centre at 15, 0 mm from the piece’s middle, moved by −15, 0 mm, focal length 600 mm, grooves of 0.5 mm towards the target, 2 mm of rigid PVC.',
  ])
  expect(elementLines(slipLight())).toEqual([
    'Clear pane: Cover at 134 to 138 mm, 310 × 120 mm, 4 mm of plain float glass, plain surfaces.',
  ])
  const film: NonNullable<Lamp['elements']>[number] = {
    ...{ kind: 'diffuser', name: 'Film', zMm: 200, diameterMm: 90, aperture: 'square', turnDeg: 45, tiltXDeg: -10 },
    ...{ spreadDeg: 5, transmittance: 0.6, reflectance: 0.3 },
  }
  expect(elementLines({ ...stileLamp(), elements: [film] })[0]).toMatch(
    /^Film: Diffuser film at 18\d\.\d to 21\d\.\d mm, 90 mm square, tilted by −10° about its x, turned by 45°, passes 60 %, sends back 30 %, spreads by 5°\.$/,
  )
  expect(elementLines(stileLamp())).toEqual(['No lens and no cover.'])
})
