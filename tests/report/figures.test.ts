import { expect, test } from 'vitest'
import { FIGURE_NAMES } from '../../src/job/beam/sheet.ts'
import { FATE_WORDS, FIGURE_WORDS } from '../../src/report/figures.ts'
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
