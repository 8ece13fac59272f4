import { expect, test } from 'vitest'
import { choiceWords, lampWithout } from '../../../src/app/night/comparison.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { binLamp, slipLight } from '../../../src/library/demosAssembled.ts'

const pane = slipLight().elements![0]!
const second = { ...binLamp().lens!, kind: 'ideal' as const, name: 'Second lens', zMm: 700, focalMm: 600 }

test('beside a lamp without lenses its covers stay, further lenses go, and the choice says so', () => {
  const lamp = { ...binLamp(), elements: [pane, second] }
  expect(lampWithout(lamp, 'without lens')).toMatchObject({ lens: null, elements: [pane] })
  expect(choiceWords(lamp, 'without lens')).toBe('without all 2 lenses; cover stays')
  expect(lampWithout({ ...lamp, lens: null }, 'without lens')?.elements).toEqual([pane])
  expect(lampWithout(slipLight(), 'without lens')).toBeNull()
  expect(choiceWords(binLamp(), 'without tunnel')).toBe('without the tunnel')
})

test('beside a lamp it may stand itself in one of its modes, just switched on', () => {
  const { id, name } = gannetHead().power!.modes[0]!
  expect(lampWithout(gannetHead(), `mode ${id}`)).toEqual({
    ...gannetHead(),
    heat: { kind: 'mode', mode: id, seconds: 0 },
  })
  expect(choiceWords(gannetHead(), `mode ${id}`)).toBe(`in ${name}, just switched on`)
  expect(lampWithout(gannetHead(), 'mode none of these')).toBeNull()
})
