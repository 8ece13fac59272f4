import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, test } from 'vitest'
import { profileOf } from '../../../src/app/parts/EmitterAngle.tsx'
import {
  type ImportedProfile,
  lumensFault,
  readProfileFile,
  withProfile,
} from '../../../src/app/parts/importProfile.ts'
import { ProfilePicture } from '../../../src/app/parts/ProfilePicture.tsx'
import { fromRows, rowsOf } from '../../../src/app/parts/ProfileRows.tsx'
import { createDesign } from '../../../src/app/store/design.ts'
import { lampFault, tryEdit } from '../../../src/app/store/tryEdit.ts'
import { underCollimators } from '../../../src/job/rays/takeRays.ts'
import { LIMITS } from '../../../src/lamp/limits.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { fileOf, withLines } from '../../kit/lm63File.ts'

const ID = gannetHead().emitterTypes[0]!.id
const fileNamed = (text: string, size = text.length) => ({ name: 'spot.ies', size, text: async () => text })

async function profile(file: Parameters<typeof readProfileFile>[0]): Promise<ImportedProfile | readonly string[]> {
  let out: ImportedProfile | readonly string[] = ['nothing was said']
  await readProfileFile(file, {
    onProfile: (imported) => {
      out = imported
    },
    onRefused: (name, why) => {
      out = [name, ...why]
    },
  })
  return out
}

describe('a file from the disk', () => {
  test('is imported', async () => {
    expect(await profile(fileNamed(withLines({})))).toMatchObject({ file: 'spot.ies', fluxLm: 1269.3, notes: [] })
  })
  test('or refused in words: too large, unreadable, faulty, without a front', async () => {
    expect(await profile(fileNamed('', 33e6))).toEqual([
      'spot.ies',
      'It holds 33 MB; a photometric file is never over 32 MB.',
    ])
    const broken = { ...fileNamed(''), text: () => Promise.reject(new Error('gone')) }
    expect(await profile(broken)).toEqual(['spot.ies', 'The file could not be read from the disk.'])
    expect(await profile(fileNamed(withLines({ 6: 'TILT=A.TLT' })))).toEqual([
      'spot.ies',
      'line 6: TILT=A.TLT names another file, which is not read; expected TILT=NONE or TILT=INCLUDE.',
    ])
    expect(await profile(fileNamed(fileOf({ vertical: [90, 180], candela: [[1, 1]] })))).toEqual([
      'spot.ies',
      'No light below 90° from straight down; expected some, since that side becomes the emitter’s front.',
    ])
  })
  test('lumens that no emitter has', () => {
    expect(lumensFault(1269.3)).toBeNull()
    expect(lumensFault(2e5)).toBe('200000 lm is too large; at most 100000 lm.')
    expect(lumensFault(0.001)).toBe('0.001 lm is too small; at least 0.01 lm.')
  })
})

describe('into the lamp', () => {
  test('profile, lumens and where they are from: one step of history', async () => {
    const imported = (await profile(fileNamed(withLines({})))) as ImportedProfile
    const design = createDesign(gannetHead())
    const part = { profile: imported.profile, fluxLm: imported.fluxLm }
    expect(
      tryEdit(design, 'Emitter: profile from a file', (l) => withProfile(l, ID, part, 'spot.ies. Invented.')),
    ).toBeNull()
    const after = design.lamp().emitterTypes[0]!
    expect(after).toMatchObject(part)
    expect(after.note.endsWith('\nLight over angle: spot.ies. Invented.')).toBe(true)
    design.undo()
    expect(design.lamp()).toEqual(gannetHead())
    expect(design.canUndo()).toBe(false)
  })
  test('without lumens the flux stays; another file takes the place of the first in the note; a formula clears it', () => {
    const before = gannetHead()
    const profile = { kind: 'table' as const, thetaDeg: [0, 90], intensity: [1, 0] }
    const once = withProfile(before, ID, { profile }, 'a.ies')
    expect(once.emitterTypes[0]!.fluxLm).toBe(before.emitterTypes[0]!.fluxLm)
    const twice = withProfile(once, ID, { profile }, 'b.ies')
    expect(twice.emitterTypes[0]!.note.match(/Light over angle/g)).toHaveLength(1)
    expect(twice.emitterTypes[0]!.note).toContain('b.ies')
    const back = withProfile(twice, ID, { profile: before.emitterTypes[0]!.profile })
    expect(back).toEqual(before)
    expect(withProfile(before, 'none such', { profile })).toBe(before)
  })
  test('a note that would grow too long is left as it is', () => {
    const lamp = structuredClone(gannetHead())
    lamp.emitterTypes[0]!.note = 'x'.repeat(LIMITS.textChars - 5)
    const next = withProfile(lamp, ID, { profile: lamp.emitterTypes[0]!.profile }, 'a.ies')
    expect(next.emitterTypes[0]!.note).toBe(lamp.emitterTypes[0]!.note)
    expect(lampFault(next)).toBeNull()
  })
})

test('under collimators by data sheet alone the angle is theirs', () => {
  const lamp = gannetHead()
  expect(underCollimators(lamp, ID)).toBe(true)
  expect(underCollimators({ ...lamp, optic: 'bare' }, ID)).toBe(false)
  expect(underCollimators({ ...lamp, boards: [] }, ID)).toBe(false)
})

describe('the table by hand', () => {
  test('rows and profile are each other’s', () => {
    const table = { kind: 'table' as const, thetaDeg: [0, 20, 90], intensity: [1, 0.5, 0] }
    expect(fromRows(rowsOf(table))).toEqual(table)
    expect(rowsOf({ kind: 'cosine', fwhmDeg: 120 })).toEqual([])
  })
  test('any kind can become any other and the lamp stands', () => {
    const lamp = gannetHead()
    const map = {
      kind: 'map' as const,
      thetaDeg: [0, 90],
      phiDeg: [0, 180],
      intensity: [
        [1, 0],
        [1, 0.5],
      ],
    }
    for (const old of [lamp.emitterTypes[0]!.profile, map, { kind: 'gaussian' as const, fwhmDeg: 0.5 }])
      for (const kind of ['cosine', 'gaussian', 'table'] as const)
        expect(lampFault(withProfile(lamp, ID, { profile: profileOf(kind, old) }))).toBeNull()
    expect(profileOf('map', map)).toBe(map)
    // A formula takes the width of the table it comes from.
    const table = { kind: 'table' as const, thetaDeg: [0, 20, 40], intensity: [2, 1, 0] }
    expect(profileOf('gaussian', table)).toEqual({ kind: 'gaussian', fwhmDeg: 40 })
  })
})

test('the picture says its width and has nothing that is no number', () => {
  const words = (profile: Parameters<typeof ProfilePicture>[0]['profile']) => {
    const markup = renderToStaticMarkup(<ProfilePicture profile={profile} />)
    expect(markup).not.toMatch(/NaN|undefined|Infinity/)
    return markup
  }
  expect(words({ kind: 'table', thetaDeg: [0, 30, 60], intensity: [1, 0.75, 0.25] })).toContain(
    'Viewing angle 90°, full: half of the peak at 45° from the axis.',
  )
  const map = words({
    kind: 'map',
    thetaDeg: [0, 40],
    phiDeg: [0, 90, 180, 270],
    intensity: [
      [1, 0],
      [1, 0.5],
      [1, 0],
      [1, 0.5],
    ],
  })
  expect(map).toContain('along y dashed')
  expect(map.match(/<path/g)).toHaveLength(2)
})
