import { describe, expect, test } from 'vitest'
import { newLens } from '../../../../src/app/parts/defaults.ts'
import {
  absorptionGivenBy,
  indexGivenBy,
  indexWords,
  newOwnMaterial,
  passesWords,
} from '../../../../src/app/parts/model/ownMaterial.ts'
import { lampFault } from '../../../../src/app/store/tryEdit.ts'
import { BUILT_IN_MATERIALS, type OwnMaterial, ownAbsorption, ownIndex } from '../../../../src/lamp/material.ts'
import type { FresnelLens, Lamp } from '../../../../src/lamp/schema.ts'
import { gannetHead } from '../../../../src/library/demos.ts'
import { expectWithin } from '../../../kit/expect.ts'

const gannet = gannetHead()
const fresnel = gannet.lens as FresnelLens
const withOwn = (ownMaterial: OwnMaterial): Lamp => ({ ...gannet, lens: { ...fresnel, material: 'own', ownMaterial } })

test.each(BUILT_IN_MATERIALS)('begun from %s: valid, its index, and limits not known', (material) => {
  const own = newOwnMaterial({ ...fresnel, material })
  expect(lampFault(withOwn(own))).toBeNull()
  expect([own.keepBelowC, own.deflectionC, own.ignitionC]).toEqual([null, null, null])
  const lens = { ...fresnel, material }
  expect(indexWords(own)).toBe(indexWords(newOwnMaterial(lens)))
})

describe('from one way of giving it to every other', () => {
  const acrylic = newOwnMaterial(fresnel)
  const ways = ['abbe', 'cauchy', 'sellmeier', 'table'] as const
  test.each(ways.flatMap((a) => ways.map((b) => [a, b] as const)))('index: %s to %s stays within 0.0015', (a, b) => {
    const from = { ...acrylic, index: indexGivenBy(acrylic, a) }
    const to = { ...from, index: indexGivenBy(from, b) }
    expect(to.index.by).toBe(b)
    expect(lampFault(withOwn(to))).toBeNull()
    for (let nm = 400; nm <= 780; nm += 20)
      expectWithin(ownIndex(to)(nm), ownIndex(acrylic)(nm), { abs: 0.0015, because: 'two terms carried out to 400 nm' })
    for (const nm of [486.1327, 587.5618, 656.2725])
      expectWithin(ownIndex(to)(nm), ownIndex(acrylic)(nm), {
        abs: 3e-4,
        because: 'kept at the lines, tables by 60 nm',
      })
    if (a === b) expect(to.index).toBe(from.index)
  })
  const absorptions = ['value', 'table', 'transmittance'] as const
  test.each(absorptions.flatMap((a) => absorptions.map((b) => [a, b] as const)))('absorption: %s to %s', (a, b) => {
    const from = { ...acrylic, absorption: absorptionGivenBy(acrylic, a) }
    const to = { ...from, absorption: absorptionGivenBy(from, b) }
    expect(to.absorption.by).toBe(b)
    expect(lampFault(withOwn(to))).toBeNull()
    for (const nm of [380, 550, 780])
      expectWithin(ownAbsorption(to)(nm), 3.98e-3, { rel: 2e-3, because: 'four digits of the share that passes 10 mm' })
  })
})

test('notes: acrylic is 1.4925 with 59.4 (open data); 3 mm pass exp(−0.01194) = 98.8 %', () => {
  const acrylic = newOwnMaterial(fresnel)
  expect(indexWords(acrylic)).toBe('Index 1.4925 at 587.6 nm, Abbe number 59.4.')
  expect(passesWords(acrylic, 3)).toBe('98.8 % of the light at 550 nm passes inside of 3 mm.')
})

test('a new lens keeps the material, and facets that its index can make', () => {
  const own = { ...newOwnMaterial(fresnel), index: { by: 'abbe', nd: 1.34, abbe: 90 } } as const
  for (const material of [{ material: 'silicone' }, { material: 'own', ownMaterial: own }] as const) {
    const lamp: Lamp = { ...gannet, tunnel: null, lens: { ...fresnel, ...material, diameterMm: 500, focalMm: 100 } }
    expect(lampFault(lamp)).toMatch(/^Lens, focal length: 100 does not fit; no facet of an index/)
    const made = newLens(lamp, 'fresnel')
    expect(made).toMatchObject({ ...material, focalMm: 225 })
    expect(lampFault({ ...lamp, lens: made })).toBeNull()
    expect(newLens(lamp, 'solid')).toMatchObject(material)
  }
})
