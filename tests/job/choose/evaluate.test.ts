// What is said of a lamp, against sizes worked out by hand and against a whole trace; what may move, and what may not.
import { expect, test } from 'vitest'
import { partsList } from '../../../src/bill/partsList.ts'
import { choicesOf } from '../../../src/job/choose/choices.ts'
import { evaluateLamp } from '../../../src/job/choose/evaluate.ts'
import { WISH_FIGURES } from '../../../src/job/choose/figures.ts'
import {
  brokenRules,
  lampFor,
  movableOf,
  ownValues,
  standingValues,
  valueAt,
  withMoves,
} from '../../../src/job/choose/moves.ts'
import { objectiveOf, violationOf } from '../../../src/job/choose/wishes.ts'
import { traceCell } from '../../../src/job/sweep/cell.ts'
import { readLamp } from '../../../src/lamp/read.ts'
import { benchCheck, DEMOS, gannetHead, stileLamp } from '../../../src/library/demos.ts'
import { wishWords } from '../../../src/report/choose.ts'
import { expectWithin } from '../../kit/expect.ts'

const OPTIONS = { seed: 1, rays: 2048 }

test('figures are those of a trace of the same seed and rays, to the bit, whatever else is left out', async () => {
  const whole = (await traceCell(benchCheck(), OPTIONS))!
  const names = ['fluxOutLm', 'beamAngleDeg', 'axialIntensityCd'] as const
  const light = await evaluateLamp(benchCheck(), { ...OPTIONS, figures: names })
  for (const name of names) expect(light.figures[name], name).toEqual(whole.figures[name])
  const spots = await evaluateLamp(benchCheck(), { ...OPTIONS, figures: ['hot.front', 'severeFindings'] })
  expect(spots.figures['hot.front']).toEqual(whole.figures['hot.front'])
  expect(spots.findings).toEqual(whole.findings)
  expect(spots.figures.fluxOutLm).toBeUndefined()
})

test('the axis by backward rays alone: 2 Mcd by hand (200 lm into 1e-4 sr)', async () => {
  const { figures } = await evaluateLamp(benchCheck(), { ...OPTIONS, figures: ['axialIntensityCd'] })
  expectWithin(figures.axialIntensityCd!.value, 2e6, {
    rel: 2e-4,
    because: 'tables of profiles hold a few parts in 100,000',
  })
})

test('sizes by hand, mass by the parts list; a lamp that doesn’t shine says so', async () => {
  const figures = ['lengthMm', 'widthMm', 'massG'] as const
  const found = await evaluateLamp(benchCheck(), { ...OPTIONS, figures })
  // Plate 4 mm and fins 25 mm behind the face; lens at 200 mm, 200 mm across.
  expect(found.figures.lengthMm).toEqual({ value: 229, se: 0 })
  expect(found.figures.widthMm).toEqual({ value: 200, se: 0 })
  expect(found.figures.massG!.value).toBe(partsList(benchCheck()).mass.knownG)
  const lamp = benchCheck()
  const dark = { ...lamp, boards: lamp.boards.map((b) => ({ ...b, currentA: 0 })) }
  const none = await evaluateLamp(dark, { ...OPTIONS, figures: ['beamAngleDeg'] })
  expect(none).toMatchObject({ figures: {}, absent: { beamAngleDeg: expect.stringContaining('Nothing shines') } })
})

test('every option of every choice makes a valid lamp, and the lamp’s own changes nothing', () => {
  for (const make of Object.values(DEMOS)) {
    const lamp = make()
    for (const choice of choicesOf(lamp)) {
      // A face is filled in tenths of a second: once is enough.
      if (choice.path === 'boards.pattern' && make !== DEMOS['bin-lamp']) continue
      for (const { key } of choice.options) {
        const changed = choice.write(lamp, key)
        const read = readLamp(changed)
        expect(read.ok ? '' : read.why.join(), `${lamp.name}, ${choice.path}: ${key}`).toBe('')
        // A face that is filled is drawn so from then on.
        if (choice.path !== 'boards.pattern' && (choice.path !== 'lens' || key === 'with'))
          expect(choicesOf(changed).find((c) => c.path === choice.path)?.value ?? key, choice.path).toBe(
            choice.path === 'boards.rings' ? String(Math.min(Number(key), choice.options.length)) : key,
          )
      }
      if (choice.value !== null && choice.path !== 'tunnel.finish')
        expect(choice.write(lamp, choice.value)).toEqual(lamp)
    }
  }
})

test('the rings of boards are counted from the middle', () => {
  const rings = choicesOf(gannetHead()).find((c) => c.path === 'boards.rings')!
  expect(rings.options[0]!.name).toBe('1 (1 board)')
  expect(rings.write(gannetHead(), '2').boards).toHaveLength(7)
})

test('what nobody can build is refused: a collimator narrower than its emitter allows (étendue)', () => {
  const move = { kind: 'number', path: 'optics.collimator-12.fwhmDeg', min: 6, max: 24 } as const
  const lamp = gannetHead()
  expect(brokenRules(lamp)).toEqual([])
  expect(lampFor(lamp, [move], [6], [])).toEqual({ ok: false, why: expect.stringContaining('smallest possible width') })
  expect(lampFor(lamp, [move], [6], ['etendue']).ok).toBe(true)
  expect(lampFor(lamp, [move], [12], []).ok).toBe(true)
})

test('choices are written before numbers; a number that went with a part is left out', () => {
  const moves = [
    { kind: 'number', path: 'lens.zMm', min: 900, max: 1100 },
    { kind: 'choice', path: 'lens', keys: ['with', 'without'] },
  ] as const
  expect(withMoves(gannetHead(), moves, [1060, 'without']).lens).toBeNull()
  expect(withMoves(gannetHead(), moves, [1060, 'with']).lens!.zMm).toBe(1060)
  expect(ownValues(movableOf(gannetHead()), moves)).toEqual([1050, 'with'])
  expect(ownValues(movableOf(stileLamp()), moves)).toEqual([1000, 'with'])
  // What a search is compared with is the lamp itself, bounds or not.
  const narrow = moves.map((move) => (move.kind === 'number' ? { ...move, min: 1100, max: 1200 } : move))
  expect(ownValues(movableOf(gannetHead()), narrow)).toEqual([1100, 'with'])
  expect(standingValues(movableOf(gannetHead()), narrow)).toEqual([1050, 'with'])
  expect(valueAt(moves[0], 0.512345, false)).toBe(1002.5)
})

test('every figure has words; hazards are judged by the upper end of ±, others by their value', () => {
  for (const { name, word } of WISH_FIGURES) {
    expect(wishWords(name).name.length).toBeGreaterThan(3)
    expect(word).not.toMatch(/\s/)
  }
  expect(new Set(WISH_FIGURES.map((f) => f.word)).size).toBe(WISH_FIGURES.length)
  const figure = { value: 10, se: 1 }
  expect(objectiveOf({ figure: 'hot.front', aim: 'least' }, figure)).toBeCloseTo(12.131, 9)
  expect(objectiveOf({ figure: 'lengthMm', aim: 'least' }, figure)).toBe(10)
  expect(objectiveOf({ figure: 'beamAngleDeg', aim: 'equal', value: 8 }, figure)).toBe(2)
  expect(violationOf({ figure: 'hot.front', most: 12 }, figure)).toBeCloseTo(0.131 / 12, 9)
  expect(violationOf({ figure: 'fluxOutLm', least: 12, most: 20 }, figure)).toBeCloseTo(2 / 12, 9)
})
