// lampwright compare, its columns made by hand: what is asked for, the text, the JSON object, what is refused.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { gannetHead } from '../../src/library/demos.ts'
import { lampwright, scratch } from './kit.ts'

function dimmerFile(): string {
  const lamp = gannetHead()
  const path = join(scratch(), 'dimmer.lamp.json')
  const boards = lamp.boards.map((b) => ({ ...b, currentA: 1.5 }))
  writeFileSync(path, JSON.stringify({ ...lamp, boards }))
  return path
}

test('a lamp against itself: nothing changed, no row differs', async () => {
  const { out, status, compared } = await lampwright(['compare', 'demo', 'demo', '--rays', '1e4', '--seed', '3'])
  expect(status).toBe(0)
  expect(compared).toMatchObject({ lamps: [gannetHead(), gannetHead()], options: { rays: 1e4, seed: 3 } })
  expect(out).toContain('What changed from A to B: nothing')
  expect(out).toContain('Flux out ')
  expect(out).not.toContain('differs')
})

test('less current: the words name it, the flux differs, the hot spot stays within its ±', async () => {
  const { out, err } = await lampwright(['compare', 'demo', dimmerFile()])
  expect(err).toBe('')
  expect(out).toContain('What changed from A to B\n  Boards: current 2 → 1.5 A (19 of them)\n')
  // 19 boards, 1000 lm an ampere: 38,000 and 28,500 lm; each ± 2.131, rounded up; joined 2.131 × √2 = 3.01.
  expect(out).toMatch(/\n {2}Flux out +38,000 +± 3 +28,500 +± 3 +lm\n/)
  expect(out).toMatch(/\n {2}Flux out +-9,500\.0 +± 3\.0 +lm {2}differs \(joined ±\)\n/)
  expect(out).toMatch(/\n {2}Hot spot, in front +0 +± 0\.30 +kW\/m² {2}the same \(joined ±\)\n/)
  // The fake danger: 10 kW/m² an ampere in front, its ± is 2.131 × 0.1: 20.213 and 15.213, rounded up.
  expect(out).toContain('  Worst in front\n    A  20.3 kW/m²\n    B  15.3 kW/m²  [better]\n')
  expect(out).toMatch(/\n {2}Eyes, looking in\n {4}A B {2}\S+ m/)
})

test('--units inch: distances, temperatures, masses and what changed', async () => {
  const path = join(scratch(), 'nearer.lamp.json')
  const lamp = gannetHead()
  writeFileSync(path, JSON.stringify({ ...lamp, target: { ...lamp.target, distanceM: 304.8 } }))
  const { out } = await lampwright(['compare', 'demo', path, '--units', 'inch'])
  expect(out).toContain('Target: distance 2624.7 → 1000 ft')
  expect(out).toMatch(/\n {2}Eyes, looking in\n {4}A B {2}\S+ ft/)
  expect(out).toMatch(/heats the lens under it to \d+ °F/)
  expect(out).toMatch(/\n {2}Mass of the lamp +\S+ lb/)
  expect(out).not.toMatch(/\d (mm|m|°C|kg)\b/)
})

test('as JSON: every difference with its ± and mark, changes in words', async () => {
  const { out } = await lampwright(['compare', 'demo', dimmerFile(), 'demo', '--json'])
  const { lamps } = JSON.parse(out)
  expect(lamps.map((l: { letter: string }) => l.letter)).toEqual(['A', 'B', 'C'])
  expect(lamps[0].differences).toEqual({})
  expect(lamps[1].changes).toEqual(['Boards: current 2 → 1.5 A (19 of them)'])
  expect(lamps[1].differences.fluxOutLm).toMatchObject({ value: -9500, by: 'joined', differs: true, mark: 'differs' })
  expect(lamps[2].differences.fluxOutLm).toMatchObject({ value: 0, differs: false, mark: 'the same' })
})

test('one lamp is no comparison, five are too many', async () => {
  expect(await lampwright(['compare', 'demo'])).toMatchObject({
    status: 2,
    err: 'compare takes 2 to 4 lamp files or names of examples, but found 1.\n',
  })
  expect((await lampwright(['compare', ...Array(5).fill('demo')])).status).toBe(2)
})
