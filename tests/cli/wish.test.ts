// The command wish, its search replaced by one where every kind declines.
import { expect, test } from 'vitest'
import { lampwright } from './kit.ts'

test('physics that forbids the wish: said with its figure and what allows it, status 2', async () => {
  const ran = await lampwright(['wish', '--candela', '1e7', '--width', '100'])
  expect(ran.status).toBe(2)
  // Worked by hand in tests/job/wish/feasible.test.ts: 3.267 Mcd through 100 mm, 175 mm for 10 Mcd.
  expect(ran.out).toContain('3,260,000 cd at the most')
  expect(ran.out).toMatch(/a width of 175 mm or\s+more/)
})

test('--units inch: the least width rounds up, 175 mm being 6.89 in (25.4 mm to the inch, 1959)', async () => {
  const { out } = await lampwright(['wish', '--candela', '1e7', '--width', '100', '--units', 'inch'])
  expect(out).toMatch(/a width of 6\.89 in or\s+more/)
  expect(out).not.toMatch(/\bmm\b/)
})

test('kinds that can’t do it stand with their reason', async () => {
  const ran = await lampwright(['wish', '--lux', '2', '--distance', '100'])
  expect(ran).toMatchObject({ status: 0, err: '' })
  expect(ran.out).toContain('0 of 5 kinds')
  expect(ran.out).toContain(
    'Narrow collimators, no lens: not enough light within the limits of the wish: about 5.0 lx.',
  )
})

test.each([
  [[], /says no light/],
  [['--candela', 'much'], /--candela: "much" does not fit/],
  [['--candela', '1', '--pack', '8'], /--pack: "8" does not fit; expected two numbers/],
  [['--lux', '2'], /needs the distance/],
  [['no-such.json'], /No file called no-such.json/],
])('%j is refused in a sentence', async (args, why) => {
  const ran = await lampwright(['wish', ...args])
  expect(ran.status).toBe(2)
  expect(ran.err).toMatch(why)
})
