// What the check of the document says of emitters whose light is single rays.
import { expect, test } from 'vitest'
import { checkDesign } from '../../src/checks/check.ts'
import { patterned } from '../../src/checks/sheet/patterned.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { documentRays, lambertianRays, type TestRay } from '../kit/rayFile.ts'
import { oneEmitter } from '../kit/traceHere.ts'

const rulesOf = (lamp: Lamp) =>
  checkDesign(lamp)
    .filter((f) => f.rule.startsWith('rays-'))
    .map((f) => f.rule)
const ofRays = (rays: readonly TestRay[], heightMm = 1) => oneEmitter({ heightMm, rays: documentRays(rays) })
const up = lambertianRays(99, 0.5)

test('rays at the emitter that run up: a note that they are a sample', () => {
  expect(rulesOf(ofRays(up))).toEqual(['rays-sample'])
  expect(checkDesign(ofRays(up)).find((f) => f.rule === 'rays-sample')).toMatchObject({
    severity: 'note',
    title: 'The light of “Invented” is drawn from 99 rays of a file: no figure is known better than by these.',
    place: { kind: 'emitter', boardIndex: 0, siteIndex: 0 },
  })
})

test('some start under the board: with their share; not while the surface is high enough', () => {
  const low: TestRay = { place: [0, 0, -1.3] }
  const found = checkDesign(ofRays([...up, low])).find((f) => f.rule === 'rays-under-board')
  expect(found).toMatchObject({ severity: 'warning', title: '1 % of the light of “Invented” starts under its board.' })
  expect(rulesOf(ofRays([...up, low], 1.4))).not.toContain('rays-under-board')
})

test('some start far from the package, of 1 mm', () => {
  expect(rulesOf(ofRays([...up, { place: [0, 0, 1.6] }]))).toContain('rays-away')
  expect(checkDesign(ofRays([...up, { place: [0, 0, 300] }])).find((f) => f.rule === 'rays-away')!.title).toMatch(
    /start up to 300 mm from it; its package measures 1 mm/,
  )
})

test('a fifth of them run down', () => {
  const down: TestRay = { direction: [0.1, 0, -1] }
  expect(rulesOf(ofRays([...up, ...Array.from({ length: 20 }, () => down)]))).not.toContain('rays-down')
  expect(rulesOf(ofRays([...up, ...Array.from({ length: 26 }, () => down)]))).toContain('rays-down')
})

test('nothing is said where a collimator is in their place', () => {
  const optic = {
    kind: 'collimator',
    id: 'c',
    name: '',
    exitDiameterMm: 20,
    heightMm: 5,
    fwhmDeg: 30,
    shape: 'gaussian',
    efficiency: 0.8,
  } as const
  expect(rulesOf({ ...ofRays([{ place: [0, 0, 300] }]), opticTypes: [optic], optic: 'c' })).toEqual([])
})

test('that the beam shows the array is not said of a sample of rays', () => {
  const parts = { patterned: false, figures: { patternContrast: { value: 0.6, se: 0.01 } } } as unknown as Parameters<
    typeof patterned
  >[1]
  expect(patterned(ofRays(up), parts)).toEqual([])
  expect(patterned(oneEmitter(), parts).map((f) => f.rule)).toEqual(['beam-shows-array'])
})
