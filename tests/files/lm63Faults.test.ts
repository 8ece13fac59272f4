// What a photometric file is refused with, word for word.
import { describe, expect, test } from 'vitest'
import { LM63_LIMITS, readLm63 } from '../../src/files/lm63.ts'
import { withLines } from '../kit/lm63File.ts'

function refused(text: string): string {
  const out = readLm63(text)
  return out.ok ? 'it was read' : out.why
}

describe('faults: the line or field, the value, what is expected', () => {
  test.each<[string, Record<number, string | null>, string]>([
    [
      'an edition to come',
      { 1: 'IES:LM-63-2031' },
      'line 1: "IES:LM-63-2031" does not fit; expected IES:LM-63-2019, IESNA:LM-63-2002, IESNA:LM-63-1995 or IESNA91 (files of 1986 have no such line).',
    ],
    [
      'no tilt line',
      { 6: null },
      'No line begins with TILT=; expected TILT=NONE or TILT=INCLUDE before the numbers. Is it an LM-63 photometric file?',
    ],
    [
      'a tilt file',
      { 6: 'TILT=LAMP.TLT' },
      'line 6: TILT=LAMP.TLT names another file, which is not read; expected TILT=NONE or TILT=INCLUDE.',
    ],
    ['an empty tilt', { 6: 'TILT=' }, 'line 6: nothing stands after TILT=; expected TILT=NONE or TILT=INCLUDE.'],
    [
      'tilt pairs',
      { 6: 'TILT=INCLUDE\n1\n0' },
      'line 8, number of tilt angles: 0 does not fit; expected a whole number from 1 to 1000.',
    ],
    ['tilt words', { 6: 'TILT=INCLUDE\n1\n1\n0\nx' }, 'line 10, tilt factor 1: "x" does not fit; expected a number.'],
    [
      'lamps',
      { 7: '0 -1 1 10 1 1 2 0 0 0' },
      'line 7, number of lamps: 0 does not fit; expected a whole number from 1 to 10000.',
    ],
    [
      'lumens',
      { 7: '1 -2 1 10 1 1 2 0 0 0' },
      'line 7, lumens per lamp: -2 does not fit; expected -1 (absolute photometry) or a number from 0 up.',
    ],
    [
      'multiplier',
      { 7: '1 -1 0 10 1 1 2 0 0 0' },
      'line 7, candela multiplier: 0 does not fit; expected a number above 0.',
    ],
    [
      'vertical count',
      { 7: '1 -1 1 1 1 1 2 0 0 0' },
      'line 7, number of vertical angles: 1 does not fit; expected a whole number from 2 to 3601.',
    ],
    [
      'horizontal count',
      { 7: '1 -1 1 10 1e9 1 2 0 0 0' },
      'line 7, number of horizontal angles: 1e9 does not fit; expected a whole number from 1 to 721.',
    ],
    [
      'too many values',
      { 7: '1 -1 1 3601 721 1 2 0 0 0' },
      '3601 vertical by 721 horizontal angles are over 1000000 values; no measurement has so many.',
    ],
    [
      'type B',
      { 7: '1 -1 1 10 1 2 2 0 0 0' },
      'line 7, photometric type: 2 does not fit (type B, for floodlights, is not read); expected 1 (type C: planes round the axis straight down).',
    ],
    [
      'type A',
      { 7: '1 -1 1 10 1 3 2 0 0 0' },
      'line 7, photometric type: 3 does not fit (type A, for vehicle lamps, is not read); expected 1 (type C: planes round the axis straight down).',
    ],
    [
      'no type',
      { 7: '1 -1 1 10 1 4 2 0 0 0' },
      'line 7, photometric type: 4 does not fit; expected 1 (type C: planes round the axis straight down).',
    ],
    ['units', { 7: '1 -1 1 10 1 1 3 0 0 0' }, 'line 7, units type: 3 does not fit; expected 1 (feet) or 2 (metres).'],
    [
      'opening',
      { 7: '1 -1 1 10 1 1 2 wide 0 0' },
      'line 7, width of the opening: "wide" does not fit; expected a number.',
    ],
    ['ballast', { 8: '0 1 0' }, 'line 8, ballast factor: 0 does not fit; expected a number above 0.'],
    [
      'second factor',
      { 1: 'IESNA91', 8: '1 0 0' },
      'line 8, ballast-lamp photometric factor: 0 does not fit; expected a number above 0.',
    ],
    ['file generation type', { 8: '1 lab 0' }, 'line 8, file generation type: "lab" does not fit; expected a number.'],
    ['future use', { 1: 'IESNA:LM-63-2002', 8: '1 x 0' }, 'line 8, future use: "x" does not fit; expected a number.'],
    ['watts', { 8: '1 1 -5' }, 'line 8, input watts: -5 does not fit; expected a number from 0 up.'],
    [
      'angle words',
      { 9: '0 10 twenty 30 40 50 60 70 80 90' },
      'line 9, vertical angle 3 of 10: "twenty" does not fit; expected an angle over 10 and at most 180: they rise.',
    ],
    [
      'falling angles',
      { 9: '0 10 20 15 40 50 60 70 80 90' },
      'line 9, vertical angle 4 of 10: 15 does not fit; expected an angle over 20 and at most 180: they rise.',
    ],
    [
      'a first angle',
      { 9: '-90 10 20 30 40 50 60 70 80 90' },
      'line 9, vertical angle 1 of 10: -90 does not fit; expected an angle from 0 to 180.',
    ],
    [
      'vertical range',
      { 9: '0 10 20 30 40 50 60 70 80 85' },
      'vertical angles: 0 to 85 does not fit; expected 0 to 90, 90 to 180 or 0 to 180.',
    ],
    [
      'horizontal range',
      { 10: '45' },
      'horizontal angles: 45 to 45 does not fit; expected 0 alone, 0 to 90, 0 to 180, 0 to more than 180 and at most 360, or 90 to 270.',
    ],
    [
      'a negative candela',
      { 11: '1000 940 -1 562 344 170 62 13 0 0' },
      'line 11, candela value 3 of 10 at horizontal angle 0 (plane 1 of 1): -1 does not fit; expected a number from 0 up.',
    ],
    [
      'a huge candela',
      { 11: '1e999 940 1 562 344 170 62 13 0 0' },
      'line 11, candela value 1 of 10 at horizontal angle 0 (plane 1 of 1): "1e999" does not fit; expected a number from 0 up.',
    ],
    [
      'a huge product',
      { 7: '1 -1 1e200 10 1 1 2 0 0 0', 11: '1e200 940 1 562 344 170 62 13 0 0' },
      'Its greatest intensity is beyond any lamp; expected at most 1e15 cd.',
    ],
    ['darkness', { 11: '0 0 0 0 0 0 0 0 0 0' }, 'The candela values are all 0; expected light in some direction.'],
    [
      'too few',
      { 11: '1000 940 779' },
      'The file ends before the candela value 4 of 10 at horizontal angle 0 (plane 1 of 1); expected a number from 0 up.',
    ],
    [
      'too many',
      { 11: '1 1 1 1 1 1 1 1 1 1 77' },
      'line 11: "77" stands after the last candela value; expected the end of the file after 10 of them.',
    ],
  ])('%s', (_, lines, why) => {
    expect(refused(withLines(lines))).toBe(why)
  })

  test('an empty file, a long word, a huge file', () => {
    expect(refused('')).toContain('No line begins with TILT=')
    expect(refused(withLines({ 9: `0 ${'9'.repeat(5000)} 90` }))).toBe(
      `line 9, vertical angle 2 of 10: "${'9'.repeat(40)}…" does not fit; expected an angle over 0 and at most 180: they rise.`,
    )
    expect(refused(' '.repeat(LM63_LIMITS.chars + 1))).toBe(
      'The file holds 8 million characters; a photometric file is never over 8 million.',
    )
  })
})
