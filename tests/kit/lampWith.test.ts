import { expect, test } from 'vitest'
import { benchCheck, gannetHead } from '../../src/library/demos.ts'
import { lampWith } from './lampWith.ts'

test('changes what is named and nothing else', () => {
  const lamp = lampWith({ lens: { focalMm: 900 }, face: { shape: 'square' } })
  expect(lamp).toEqual({
    ...gannetHead(),
    lens: { ...gannetHead().lens, focalMm: 900 },
    face: { ...gannetHead().face, shape: 'square' },
  })
})

test('null and lists replace; another kind of part shares nothing with the old one', () => {
  const ideal = { kind: 'ideal' as const, zMm: 1100, focalMm: 1100, diameterMm: 500 }
  const lamp = lampWith({ tunnel: null, boards: gannetHead().boards.slice(0, 2), lens: ideal })
  expect(lamp.tunnel).toBeNull()
  expect(lamp.boards).toHaveLength(2)
  expect(lamp.lens).toEqual(ideal)
})

test('starts from the example named', () => {
  expect(lampWith({ name: 'Mine' }, benchCheck())).toEqual({ ...benchCheck(), name: 'Mine' })
})

test('throws when the outcome is no lamp', () => {
  expect(() => lampWith({ face: { sizeMm: -1 } })).toThrow('face.sizeMm: -1 does not fit')
})
