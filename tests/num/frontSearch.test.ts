import { expect, test } from 'vitest'
import { type FrontScore, searchFront } from '../../src/num/frontSearch.ts'
import { crowdingDistances, dominates, dominationRanks, nonDominated } from '../../src/num/nonDominated.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { amount } from '../kit/amount.ts'

/** The front's two ends are found to about this, of values from 0 to 4. */
const BETTER_BY = 0.01

function frontOf(
  of: (x: readonly number[]) => FrontScore,
  options: { start: number[]; evaluations: number; population: number },
) {
  const search = searchFront({ ...options, seed: 1 })
  const seen: { x: number[]; objectives: readonly number[] }[] = []
  let step = search.next()
  while (!step.done) {
    const scores = step.value.map(of)
    for (const [i, s] of scores.entries()) if (s.tier === 0) seen.push({ x: step.value[i]!, objectives: s.objectives })
    step = search.next(scores)
  }
  return nonDominated(seen.map((s) => s.objectives)).map((i) => seen[i]!)
}

test('Schaffer’s two parabolas (J. D. Schaffer, 1985): f₂ = (√f₁ − 2)², and no random neighbour is better in both', () => {
  const at = (u: number) => 10 * u - 4
  const of = ([u]: readonly number[]) => ({ tier: 0, violation: 0, objectives: [at(u!) ** 2, (at(u!) - 2) ** 2] })
  const front = frontOf(of, { start: [0.9], evaluations: 600, population: 30 })
  expect(front.length).toBeGreaterThan(30)
  const random = seededRandom(7)
  for (const { x, objectives } of front) {
    expect(Math.sqrt(objectives[1]!)).toBeCloseTo(2 - Math.sqrt(objectives[0]!), 1)
    const beside = Array.from({ length: 200 }, () => of([x[0]! + 0.2 * (random() - 0.5)]).objectives)
    const better = beside.filter((b) =>
      dominates(
        b.map((v) => v + BETTER_BY),
        objectives,
      ),
    )
    expect(better).toEqual([])
  }
  const first = front.map((p) => p.objectives[0]!)
  expect(Math.min(...first)).toBeLessThan(0.01)
  expect(Math.max(...first)).toBeGreaterThan(3.8)
})

test('ZDT1 (E. Zitzler, K. Deb, L. Thiele, Evolutionary Computation 8 (2000) 173): f₂ = 1 − √f₁', () => {
  const n = amount(6, 30)
  const of = (x: readonly number[]) => {
    const g = 1 + (9 * x.slice(1).reduce((a, b) => a + b, 0)) / (n - 1)
    return { tier: 0, violation: 0, objectives: [x[0]!, g * (1 - Math.sqrt(x[0]! / g))] }
  }
  const options = { start: Array(n).fill(0.5), evaluations: amount(4800, 25_000), population: amount(40, 100) }
  const front = frontOf(of, options)
  // The paper by Deb and others (2002, table II) has a mean distance of 0.03 after 25,000 evaluations of 30 variables.
  const off = front.map(({ objectives: [a, b] }) => b! - (1 - Math.sqrt(a!)))
  expect(off.reduce((a, b) => a + b, 0) / off.length).toBeLessThan(0.03)
  expect(Math.max(...front.map((p) => p.objectives[0]!))).toBeGreaterThan(0.9)
})

test('constraints come before wishes', () => {
  const of = ([x, y]: readonly number[]) => {
    const violation = Math.max(0, 1 - x! - y!)
    return { tier: violation > 0 ? 1 : 0, violation, objectives: [x!, y!] }
  }
  const front = frontOf(of, { start: [0, 0], evaluations: 900, population: 30 })
  for (const { objectives } of front) expect(objectives[0]! + objectives[1]!).toBeGreaterThanOrEqual(1)
  const excess = front.map(({ objectives: [a, b] }) => a! + b! - 1)
  expect(excess.reduce((a, b) => a + b, 0) / excess.length).toBeLessThan(0.02)
})

test('a small place where all constraints are kept is found by how much they are broken elsewhere', () => {
  const of = ([x, y]: readonly number[]) => {
    const violation = Math.max(0, Math.abs(x! - 0.8) + Math.abs(y! - 0.3) - 0.01)
    return { tier: violation > 0 ? 1 : 0, violation, objectives: [x!, y!] }
  }
  expect(frontOf(of, { start: [0, 0], evaluations: 600, population: 20 }).length).toBeGreaterThan(5)
})

test('ranks and crowding by hand', () => {
  const points = [
    [0, 3],
    [1, 1],
    [3, 0],
    [2, 2],
    [4, 4],
    [1, 1],
  ]
  expect(nonDominated(points)).toEqual([0, 1, 2])
  expect(dominationRanks(points, dominates)).toEqual([0, 0, 0, 1, 2, 0])
  // (3 − 0)/3 along each of the two.
  expect(crowdingDistances(points.slice(0, 3))).toEqual([Infinity, 2, Infinity])
})
