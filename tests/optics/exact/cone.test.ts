// Roots of f(t) = a t² + 2 b t + c by hand: every quadratic below has whole-number roots, checked by putting them in.
import { expect, test } from 'vitest'
import { coneAcross, coneIn, coneOut, NEVER } from '../../../src/optics/cone.ts'

test('NEVER is farther than any lamp', () => expect(NEVER).toBe(1e30))

test.each([
  ['from the axis of a cylinder of radius 2', 1, 0, -4, 2],
  ['outward from r = 1 in radius 2', 1, 1, -3, 1],
  ['inward from there, through the axis', 1, -1, -3, 3],
  ['across the cylinder from its wall', 1, -1, 0, 2],
  ['inward with a = 4: 4t² − 8t − 12', 4, -4, -12, 3],
  ['outward on the wall', 1, 1, 0, 0],
  ['steeper than the cone, outward: −t² + 4t − 3, the nearer root', -1, 2, -3, 1],
  ['touching the cone: −(t − 1)²', -1, 1, -1, 1],
  ['parallel to the cone, outward: 2t − 4', 0, 1, -4, 2],
  ['parallel to the cone, inward', 0, -1, -1, NEVER],
  ['steeper than the cone, inward', -1, -2, -1, NEVER],
  ['never as far out as the cone', -1, 0.5, -1, NEVER],
  ['on the cone and into it at once', -1, 0, 0, NEVER],
])('coneOut, %s', (_, a, b, c, distance) => expect(coneOut(a, b, c)).toBe(distance))

test.each([
  ['towards a cylinder: t² − 6t + 5', 1, -3, 5, 1],
  ['touching it: (t − 2)²', 1, -2, 4, 2],
  ['past it', 1, -1, 2, NEVER],
  ['away from it', 1, 3, 5, NEVER],
  ['away from it, but the cone opens faster: −t² + 2t + 3', -1, 1, 3, 3],
  ['along it, the cone opens: 4 − t²', -1, 0, 4, 2],
  ['parallel to the cone, away from it', 0, 1, 5, NEVER],
  ['parallel to the cone, towards it: 4 − 2t', 0, -1, 4, 2],
  ['on it already', 1, -1, 0, NEVER],
  ['on it already, outward', -1, 1, 0, NEVER],
])('coneIn, %s', (_, a, b, c, distance) => expect(coneIn(a, b, c)).toBe(distance))

test.each([
  ['out of one half and into the other: −(t − 1)(t − 3)', -1, 2, -3, 3],
  ['through the apex: −(t − 1)²', -1, 1, -1, 1],
  ['by a wider cone: −2t² + 8t − 6', -2, 4, -6, 3],
  ['never out of the first half', -1, 1, -2, NEVER],
  ['deeper into it', -1, -2, -3, NEVER],
  ['flatter than the cone: out and away', 1, 1, -3, NEVER],
  ['parallel to the cone', 0, 1, -3, NEVER],
])('coneAcross, %s', (_, a, b, c, distance) => expect(coneAcross(a, b, c)).toBe(distance))
