import { describe, expect, test } from 'vitest'
import { expectWithin, seeds, ulp } from './expect.ts'

describe('expectWithin', () => {
  test('passes inside the tolerance, of each kind', () => {
    expectWithin(1.03, 1, { sigmas: 4, se: 0.01 })
    expectWithin(1 + Number.EPSILON, 1, { ulps: 1 })
    expectWithin(10.4, 10, { abs: 0.5, because: 'half a bin' })
    expectWithin(-101, -100, { rel: 0.02, because: 'coarse table' })
  })

  test('fails when it should, of each kind', () => {
    expect(() => expectWithin(1.05, 1, { sigmas: 4, se: 0.01 })).toThrow(/off by 0\.05.*4 standard errors/)
    expect(() => expectWithin(1 + 3 * Number.EPSILON, 1, { ulps: 2 })).toThrow('2 ulps')
    expect(() => expectWithin(10.6, 10, { abs: 0.5, because: 'half a bin' })).toThrow('half a bin')
    expect(() => expectWithin(-103, -100, { rel: 0.02, because: 'coarse table' })).toThrow('coarse table')
  })

  test('fails for NaN and infinity, on either side', () => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => expectWithin(bad, 1, { abs: 1e9, because: 'anything finite' })).toThrow()
      expect(() => expectWithin(1, bad, { rel: 1, because: 'anything finite' })).toThrow()
    }
  })

  test('refuses a tolerance that says nothing', () => {
    expect(() => expectWithin(1, 1, { abs: 1, because: ' ' })).toThrow('because of what')
    expect(() => expectWithin(1, 1, { sigmas: 4, se: 0 })).toThrow('above zero')
    expect(() => expectWithin(1, 1, { sigmas: 4, se: Number.NaN })).toThrow('above zero')
  })

  test('is a type error without a kind, an error or a reason', () => {
    const typesOnly = () => {
      // @ts-expect-error no tolerance
      expectWithin(1, 1)
      // @ts-expect-error no kind
      expectWithin(1, 1, {})
      // @ts-expect-error sigmas of what
      expectWithin(1, 1, { sigmas: 4 })
      // @ts-expect-error no reason
      expectWithin(1, 1, { abs: 0.1 })
    }
    expect(typesOnly).toBeTypeOf('function')
  })
})

test('an ulp of 1 is the machine epsilon; of 0, the smallest double', () => {
  expect(ulp(1)).toBe(Number.EPSILON)
  expect(ulp(-1)).toBe(Number.EPSILON)
  expect(ulp(0)).toBe(Number.MIN_VALUE)
})

test('seeds are the same every time, and all different', () => {
  expect(seeds(5)).toEqual([1, 2, 3, 4, 5])
  expect(new Set(seeds(100)).size).toBe(100)
})
