import { expect, test } from 'vitest'
import { z } from 'zod'
import { LABELLED, labelOf, unitOfKey } from '../../../src/job/sweep/labels.ts'
import { parametersOf } from '../../../src/job/sweep/parameters.ts'
import { readLamp } from '../../../src/lamp/read.ts'
import { lampSchema } from '../../../src/lamp/schema.ts'
import { benchCheck, DEMOS, gannetHead, stileLamp } from '../../../src/library/demos.ts'

const of = (lamp = gannetHead()) => new Map(parametersOf(lamp).map((p) => [p.path, p]))

test('limits, units and values are those of the schema and the lamp', () => {
  const known = of()
  expect(known.get('lens.zMm')).toMatchObject({ part: 'Lens', unit: 'mm', min: 1, max: 10_000, value: 1050 })
  expect(known.get('optics.collimator-12.fwhmDeg')).toMatchObject({ unit: 'deg', min: 0.5, max: 178, value: 12 })
  expect(known.get('tunnel.outMm')).toMatchObject({ part: 'Tunnel', value: 560 })
  expect(known.get('target.distanceM')).toMatchObject({ unit: 'm', value: 800 })
  expect(known.get('tunnel.sides')).toMatchObject({ integer: true, min: 3, max: 24 })
  expect(known.get('emitters.small-die-5.currentA')).toMatchObject({ unit: 'A', value: 2, single: false })
  expect(known.get('boards.B7.turnDeg')).toMatchObject({ single: true })
  expect(known.get('emitters.small-die-5.spectrum.classK')).toBeUndefined()
})

test('only what the lamp has', () => {
  expect([...of(stileLamp()).keys()].filter((path) => /^(lens|tunnel)/.test(path))).toEqual([])
  expect([...of(benchCheck()).keys()]).toContain('emitters.one-die-5.spectrum.wavelengthNm')
})

test('writing changes that number alone, and every example stands with a number slightly changed', () => {
  const kin = /currentA$|zMm|zOutMm/ // the same number under two paths
  for (const make of Object.values(DEMOS)) {
    const lamp = make()
    const known = parametersOf(lamp).filter((p) => !/^boards\.(?!B1\.)/.test(p.path))
    const before = new Map(known.map((p) => [p.path, p.value]))
    for (const p of known) {
      const to = Math.min(p.max, Math.max(p.min, (p.value ?? 1) + (p.integer ? 1 : 1e-3)))
      const changed = p.write(lamp, to)
      const after = parametersOf(changed).filter((q) => before.has(q.path))
      expect(after.find((q) => q.path === p.path)?.value, p.path).toBeCloseTo(to, 9)
      const others = after.filter((q) => q.value !== before.get(q.path) && q.path !== p.path)
      expect(
        others.filter((q) => !(kin.test(q.path) && kin.test(p.path))),
        p.path,
      ).toEqual([])
      const read = readLamp(changed)
      expect(read.ok ? '' : read.why.join(), p.path).toBe('')
    }
  }
})

test('the lens with the tunnel’s end keeps their gap', () => {
  const lamp = gannetHead()
  const moved = of(lamp).get('lens.zMm+tunnel.zOutMm')!.write(lamp, 950.5)
  expect([moved.lens!.zMm, moved.tunnel!.zOutMm]).toEqual([950.5, 940.5])
})

test('one current for all boards of an emitter; boards that differ have no common value', () => {
  const lamp = gannetHead()
  const path = 'emitters.small-die-5.currentA'
  const changed = of(lamp).get(path)!.write(lamp, 1.5)
  expect(new Set(changed.boards.map((b) => b.currentA))).toEqual(new Set([1.5]))
  const mixed = { ...lamp, boards: lamp.boards.map((b, i) => (i === 3 ? { ...b, currentA: 1 } : b)) }
  expect(of(mixed).get(path)!.value).toBeNull()
})

/** Numbers of the parts that light meets, by path without ids; tables and places on a board aside. */
function numbersOfSchema(): Set<string> {
  const found = new Set<string>()
  const lists = { emitterTypes: 'emitters', opticTypes: 'optics', boardTypes: 'boardTypes', boards: 'boards' } as const
  const walk = (schema: unknown, path: string): void => {
    if (schema instanceof z.ZodNullable || schema instanceof z.ZodOptional) walk(schema.unwrap(), path)
    else if (schema instanceof z.ZodNumber) found.add(path)
    else if (schema instanceof z.ZodUnion) for (const option of schema.options) walk(option, path)
    else if (schema instanceof z.ZodObject)
      for (const [key, next] of Object.entries(schema.shape)) walk(next, `${path}.${key}`)
  }
  const { shape } = lampSchema
  for (const [key, name] of Object.entries(lists)) walk(shape[key as keyof typeof lists].element, name)
  for (const key of ['target', 'aimAt', 'face', 'tunnel', 'lens', 'reading', 'heat'] as const) walk(shape[key], key)
  return found
}

test('no label is left over from a number that has gone', () => {
  const found = numbersOfSchema()
  expect(LABELLED.filter((path) => !found.has(path))).toEqual([])
})

test('a number without one is called by its name in the document', () => {
  expect(labelOf('heat.plate.plateThicknessMm')).toBe('Plate thickness')
})

test('units by the endings of the document’s names', () => {
  expect(['zMm', 'fwhmDeg', 'distanceM', 'fluxLm', 'currentA', 'boardC', 'designNm', 'sunWm2'].map(unitOfKey)).toEqual([
    'mm',
    'deg',
    'm',
    'lm',
    'A',
    '°C',
    'nm',
    'W/m²',
  ])
  // 1/mm, and no length.
  expect(unitOfKey('perMm')).toBe('')
  expect(['tipShare', 'reflectance', 'efficiency', 'conic', 'sides'].map(unitOfKey)).toEqual([
    'share',
    'share',
    'share',
    '',
    '',
  ])
})
