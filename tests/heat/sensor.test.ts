// A sensor that lags behind: first-order response in closed form.
import { expect, test } from 'vitest'
import { sensorAfterC, sensorCurveC } from '../../src/heat/sensor.ts'
import { expectWithin } from '../kit/expect.ts'

const HAND = { abs: 1e-9, because: 'closed form' }

test('a place that jumped and stays: 1 − 1/e of the step after one time constant', () => {
  expectWithin(sensorAfterC(20, 80, 80, 15, 15), 80 - 60 / Math.E, HAND)
})
test('a place that warms by 0.5 K/s: in the end it reads rate × lag less, 7.5 K', () => {
  expectWithin(sensorAfterC(20, 20, 520, 1000, 15), 512.5, { abs: 1e-6, because: 'e^(−67)' })
  // After one time constant: T − rτ (1 − 1/e).
  expectWithin(sensorAfterC(20, 20, 27.5, 15, 15), 27.5 - 7.5 * (1 - 1 / Math.E), HAND)
})
test('one long step of a straight line is a hundred short ones', () => {
  const tS = Array.from({ length: 101 }, (_, i) => 0.7 * i)
  const curve = sensorCurveC(
    tS,
    tS.map((t) => 30 + 0.4 * t),
    12,
  )
  expectWithin(curve[100]!, sensorAfterC(30, 30, 58, 70, 12), HAND)
  expect(curve[0]).toBe(30)
})
test('without a lag it reads its place; in no time it moves by nothing', () => {
  expect([sensorAfterC(20, 20, 50, 10, 0), sensorAfterC(20, 50, 50, 0, 0), sensorAfterC(20, 50, 50, 0, 9)]).toEqual([
    50, 50, 20,
  ])
  expect([...sensorCurveC([0, 5], [20, 40], 0)]).toEqual([20, 40])
  expect([...sensorCurveC([], [], 5)]).toEqual([])
})
