import { describe, expect, test } from 'vitest'
import { newKeepOut, newLens, newOptic, newProfile, newSpectrum, newTunnel } from '../../../src/app/parts/defaults.ts'
import {
  commonValue,
  currentOf,
  freeId,
  isUsed,
  replacedEmitter,
  withCurrentOf,
  withEmitter,
  withFace,
  withoutType,
} from '../../../src/app/parts/edits.ts'
import { lampFault } from '../../../src/app/store/tryEdit.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { DEMOS, gannetHead } from '../../../src/library/demos.ts'
import { EMITTERS } from '../../../src/library/emitters.ts'

const extremes: Record<string, (lamp: Lamp) => Lamp> = {
  'as it is': (lamp) => lamp,
  'without lens': (lamp) => ({ ...lamp, lens: null }),
  'without tunnel': (lamp) => ({ ...lamp, tunnel: null }),
  'without either': (lamp) => ({ ...lamp, tunnel: null, lens: null }),
  'lens close to the face': (lamp) => ({
    ...lamp,
    tunnel: null,
    lens: { kind: 'ideal', zMm: 3, focalMm: 5, diameterMm: 2000 },
  }),
  'largest face': (lamp) => ({ ...lamp, tunnel: null, lens: null, face: { ...lamp.face, sizeMm: 2000 } }),
}

describe.each(Object.entries(DEMOS))('new parts on %s', (_, make) => {
  test.each(Object.entries(extremes))('%s', (_name, change) => {
    const lamp = change(make())
    expect(lampFault(lamp)).toBeNull()
    for (const sides of [0, 6] as const) expect(lampFault({ ...lamp, tunnel: newTunnel(lamp, sides) })).toBeNull()
    for (const kind of ['fresnel', 'solid', 'ideal'] as const) {
      const next = { ...lamp, lens: newLens(lamp, kind) }
      expect(lampFault(next)).toBeNull()
      for (const again of ['fresnel', 'solid', 'ideal'] as const)
        expect(lampFault({ ...next, lens: newLens(next, again) })).toBeNull()
    }
    for (const kind of ['bare', 'collimator', 'reflector'] as const)
      expect(lampFault({ ...lamp, opticTypes: [...lamp.opticTypes, newOptic(lamp, kind)] })).toBeNull()
    for (const shape of ['hole', 'slot'] as const)
      expect(lampFault(withFace(lamp, { keepOuts: [newKeepOut(shape)] }))).toBeNull()
  })
})

test('profiles and spectra by their names', () => {
  const lamp = gannetHead()
  const e = lamp.emitterTypes[0]!
  expect(newProfile('gaussian', e.profile)).toEqual({ kind: 'gaussian', fwhmDeg: 120 })
  for (const key of ['3000', '4000', '5000', '6500', 'mono', 'equalEnergy', 'table'] as const)
    expect(lampFault(withEmitter(lamp, e.id, { spectrum: newSpectrum(key, e.spectrum) }))).toBeNull()
})

test('a class from the library takes the place of an emitter, its id stays, and no board is driven above its limit', () => {
  const lamp = withCurrentOf(gannetHead(), 'small-die-5', 4)
  const next = replacedEmitter(lamp, 'small-die-5', EMITTERS[2]!)
  expect(lampFault(next)).toBeNull()
  expect(next.emitterTypes[0]).toEqual({ ...EMITTERS[2]!, id: 'small-die-5' })
  expect(currentOf(next, 'small-die-5')).toBe(EMITTERS[2]!.ratedCurrentA)
  expect(currentOf(replacedEmitter(gannetHead(), 'small-die-5', EMITTERS[2]!), 'small-die-5')).toBe(2)
})

test('types in use are distinguished from those that are not', () => {
  const lamp = gannetHead()
  expect(isUsed(lamp, 'opticTypes', 'collimator-12')).toBe(true)
  expect(isUsed(lamp, 'opticTypes', 'bare')).toBe(false)
  expect(isUsed(lamp, 'boardTypes', 'seven')).toBe(true)
  expect(isUsed(lamp, 'emitterTypes', 'small-die-5')).toBe(true)
  expect(lampFault(withoutType(lamp, 'opticTypes', 'bare'))).toBeNull()
  const one = { ...lamp, boards: lamp.boards.map((b, i) => (i === 3 ? { ...b, siteOptics: { '2': 'bare' } } : b)) }
  expect(isUsed(one, 'opticTypes', 'bare')).toBe(true)
})

test('free ids and common values', () => {
  expect(freeId([{ id: 'bare' }], 'bare')).toBe('bare 2')
  expect(freeId([], '§§')).toBe('type')
  expect(commonValue([2, 2, 2])).toBe(2)
  expect(commonValue([2, 3])).toBeNull()
  expect(commonValue([])).toBeNull()
})
