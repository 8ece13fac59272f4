import { expect, test } from 'vitest'
import { FIGURE_NAMES } from '../../src/job/beam/sheet.ts'
import { FATE_WORDS, FIGURE_WORDS, hotSpotWords, variantWords } from '../../src/report/figures.ts'
import { FATES } from '../../src/run/types.ts'

const SUFFIX = { lm: 'Lm', cd: 'Cd', deg: 'Deg', m: 'M', lx: 'Lx' } as const

test('every figure has its words; its unit is the one that its name carries', () => {
  expect(Object.keys(FIGURE_WORDS).sort()).toEqual([...FIGURE_NAMES].sort())
  for (const name of FIGURE_NAMES) {
    const { unit, how, source } = FIGURE_WORDS[name]
    if (unit === '%') expect(name).not.toMatch(/(Lm|Cd|Deg|M|Lx)$/)
    else expect(name.endsWith(SUFFIX[unit])).toBe(true)
    expect(how).toMatch(/[.%]$/)
    expect(source.length).toBeGreaterThan(10)
  }
})

test('names differ from one another, and every fate has one', () => {
  const names = FIGURE_NAMES.map((n) => FIGURE_WORDS[n].name)
  expect(new Set(names).size).toBe(names.length)
  for (const fate of FATES) expect(FATE_WORDS[fate].name.length).toBeGreaterThan(3)
})

test('a hot spot on what is no lens has that element’s name', () => {
  const frame = { originMm: [0, 0, 134], rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1] } as const
  const on = (name: string, kind: 'cover' | 'fresnel') => ({ mapped: { name, kind, frame } })
  expect(hotSpotWords('lens', on('Clear pane', 'cover'))).toEqual({
    name: 'Clear pane',
    how: 'Highest irradiance arriving on the front plane of “Clear pane”, mean over the disc.',
  })
  expect(hotSpotWords('lens', on('Lens', 'fresnel')).name).toBe('Lens')
  expect(hotSpotWords('lens', {}).how).toContain('of the lens')
  expect(hotSpotWords('wall', on('Clear pane', 'cover')).name).toBe('Tunnel wall')
})

test('a comparison without lenses says how many are left out and what stays', () => {
  expect(variantWords('without lens')).toBe('Without the lens')
  const words = (lenses: number, covers: number, films: number) =>
    variantWords('without lens', { lenses, covers, films })
  expect(words(1, 0, 0)).toBe('Without the lens')
  expect(words(1, 1, 0)).toBe('Without the lens; cover stays')
  expect(words(2, 1, 2)).toBe('Without all 2 lenses; cover and 2 films stay')
  expect(variantWords('without tunnel', { lenses: 1, covers: 1, films: 0 })).toBe('Without the tunnel')
})
