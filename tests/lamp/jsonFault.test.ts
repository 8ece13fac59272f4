// Where a text stops being JSON: the grammar is RFC 8259; line and column by hand.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readLampText } from '../../src/lamp/read.ts'
import { gannetHead } from '../../src/library/demos.ts'

const fault = (text: string): string => {
  const read = readLampText(text)
  if (read.ok) throw new Error('no fault')
  expect(read.why).toHaveLength(1)
  return read.why[0]!
}

describe('each fault with its line and column', () => {
  test.each([
    ['', 'line 1, column 1: expected a value, but the file ends'],
    ['{\n "a": 1,\n}', 'line 3, column 1: expected a name in double quotes, not }'],
    ['{"a": 1,\r\n "b" 2}', 'line 2, column 6: expected a colon, not 2'],
    ['[1,\r\r 2 3]', 'line 3, column 4: expected a comma or ], not 3'],
    ['{"a": 1 "b": 2}', 'line 1, column 9: expected a comma or }, not "'],
    ['{a: 1}', 'line 1, column 2: expected a name in double quotes or }, not a'],
    ['[1, 2', 'line 1, column 6: expected a comma or ], but the file ends'],
    ['["ab', 'line 1, column 5: expected the rest of a text in double quotes, but the file ends'],
    ['["a\u0007b"]', 'line 1, column 4: expected the rest of a text in double quotes, not the character U+0007'],
    ['["a\\x"]', 'line 1, column 4: expected a known escape, not \\'],
    ['[01]', 'line 1, column 3: expected a comma or ], not 1'],
    ['[1.]', 'line 1, column 3: expected a comma or ], not .'],
    ['[+1]', 'line 1, column 2: expected a value or ], not +'],
    ['{} {}', 'line 1, column 4: expected nothing more, not {'],
    ['{"a": tru}', 'line 1, column 7: expected a value, not t'],
    ['["🔦", \u202e]', 'line 1, column 7: expected a value, not the character U+202E'],
  ])('%j', (text, words) => expect(fault(text)).toBe(`The file is no JSON: ${words}.`))
})

test('what JSON.parse refuses has a fault, wherever a lamp file was hurt; the place lies in the file', () => {
  const text = JSON.stringify(gannetHead(), null, 1)
  fc.assert(
    fc.property(
      fc.nat(text.length - 1),
      fc.constantFrom('', '"', '}', ']', ',', '\\', '\u0000', 'e', '-'),
      (at, other) => {
        const hurt = text.slice(0, at) + other + text.slice(at + 1)
        try {
          JSON.parse(hurt)
          return
        } catch {
          const place = /^The file is no JSON: line (\d+), column (\d+): expected [ -~]+\.$/.exec(fault(hurt))
          expect(place).not.toBeNull()
          const line = hurt.split('\n')[Number(place![1]) - 1]
          expect(Number(place![2])).toBeLessThanOrEqual(line!.length + 1)
        }
      },
    ),
    { seed: 1, numRuns: 500 },
  )
})

test('deep and long texts take no stack', () => {
  expect(fault('['.repeat(1_000_000))).toMatch(/column 1000001: expected a value or \]/)
  expect(fault(`["${'a\\n'.repeat(1_000_000)}`)).toMatch(/column 3000003: expected the rest/)
})

test('no control or direction character of a file gets into what is said of it', () => {
  const evil = '\u001b[2J\u0007\u009b\u202e\u2028\n'
  const base = gannetHead()
  const lamps = [
    { ...base, [`x${evil}y`]: 1 },
    { ...base, optic: evil },
    { ...base, heat: { kind: evil } },
    { ...base, name: 5, target: { [evil]: 1 } },
    { ...base, boards: [{ ...base.boards[0]!, siteOptics: { [evil]: 'a' } }] },
    { ...base, power: { ...base.power!, modes: [{ ...base.power!.modes[0]!, groupA: { [evil]: 1 } }] } },
  ]
  for (const lamp of lamps) {
    const read = readLampText(JSON.stringify(lamp))
    expect(read.ok).toBe(false)
    if (!read.ok) for (const line of read.why) expect(line).not.toMatch(/[\p{Cc}\p{Cf}\u2028\u2029]/u)
  }
})
