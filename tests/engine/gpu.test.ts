// What of the graphics engine needs no device: the tables both languages share, what is sent, what is read back.
import { expect, test } from 'vitest'
import { openDevice } from '../../src/engine/gpu/device.ts'
import { lacks } from '../../src/engine/gpu/gpuEngine.ts'
import { exitsOf, LM_STEP, RECORD_FLOATS, sumsOf, W_STEP, wide } from '../../src/engine/gpu/readBack.ts'
import { joinTables, packSetup, SETUP_WORDS } from '../../src/engine/gpu/setup.ts'
import { libraryText } from '../../src/engine/gpu/tablesText.ts'
import { chooseShape } from '../../src/job/shape.ts'
import { iceRink } from '../../src/library/demos.ts'
import * as P from '../../src/optics/params.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { BATCHES, EXIT_STRIDE } from '../../src/run/types.ts'
import { files, textOf } from '../architecture/tree.ts'
import { sceneOf } from '../kit/traceHere.ts'

test('shaders/lib is as the tables of src are now, and holds nothing else (else: npm run shaders)', () => {
  const written = libraryText()
  for (const [name, text] of Object.entries(written)) expect(textOf(`shaders/lib/${name}`), name).toBe(text)
  expect(files().filter((path) => path.startsWith('shaders/lib/'))).toEqual(
    Object.keys(written)
      .map((name) => `shaders/lib/${name}`)
      .sort(),
  )
})

/** Functions that one side has and the other does not need, each with its reason. */
const ALONE: Record<string, string> = {
  fresnelMean: 'the value that refracts() compares with, for tests and the backward estimate',
  move: 'a word that WGSL reserves; one line there',
  densityOfPower: 'a density: for tests and the backward estimate',
  uFromPower: 'an inverse: for tests',
  powerFromFwhm: 'made once, on the host',
  tableFromProfile: 'made once, on the host',
  packTable: 'made once, on the host',
  densityOfTable: 'a density: for tests and the backward estimate',
  uFromTable: 'an inverse: for tests',
  intensityAt: 'of the above',
  directionNumbers: 'made once, on the host',
  parity: 'made once, on the host',
  scrambledNumbers: 'made once a batch, on the host',
  sobolUnits: 'the shader turns bits into numbers where it uses them',
  sideTurn: 'cosine and sine from a table: built-in ones are good to three digits there',
  ringTable: 'an array there',
  passedDirect: 'the part of passDirect that may give up half way',
}

const functionsIn = (text: string, pattern: RegExp) =>
  [...text.matchAll(pattern)].map((m) => m[1]!).filter((name) => !(name in ALONE))

test('every shader of shaders/optics has the functions of its twin, in the same order', () => {
  const twins = files().filter((path) => /^shaders\/optics\/.*\.wgsl$/.test(path) && !path.endsWith('/ray.wgsl'))
  expect(twins.length).toBeGreaterThan(10)
  for (const path of twins) {
    const twin = path.replace('shaders/', 'src/').replace('.wgsl', '.ts')
    expect(functionsIn(textOf(path), /^fn (\w+)/gm), path).toEqual(
      functionsIn(textOf(twin), /^(?:export )?function (\w+)/gm),
    )
  }
})

test('the scene goes to the device byte for byte', () => {
  const scene = sceneOf(iceRink())
  const { data, starts } = joinTables(scene)
  const parts = ['emitters', 'kinds', 'profiles', 'quantiles', 'lensIndex', 'lumPerWatt', 'rings'] as const
  for (const part of parts) {
    const at = starts[`${part}At`]
    expect(data.slice(at, at + scene[part].length), part).toEqual(scene[part])
  }
  const sides = scene.params[P.sides]!
  expect(data.length).toBe(starts.sidesAt + 2 * sides)
  expect(Array.from(data.subarray(starts.sidesAt, starts.sidesAt + 2))).toEqual([1, 0])
  const setup = packSetup(scene, chooseShape(scene, iceRink()), starts)
  expect(setup.byteLength).toBe(4 * SETUP_WORDS)
  expect(new Float32Array(setup).slice(0, P.size)).toEqual(scene.params)
})

test('two words make one signed number', () => {
  expect(wide(5, 0)).toBe(5)
  expect(wide(0, 3)).toBe(3 * 2 ** 32)
  expect(wide(0xffffffff, 0xffffffff)).toBe(-1)
  expect(wide(2 ** 32 - 2 ** 23, 0xffffffff)).toBe(-(2 ** 23))
})

test('lines and profiles read back are exact, each in its own steps', () => {
  const scene = sceneOf(iceRink())
  const layout = tallyLayout(chooseShape(scene, iceRink()))
  const words = new Uint32Array(2 * layout.windowLm)
  for (const at of [layout.fateW, layout.fateLm, layout.emitted, layout.emitted + 1, layout.axialLm])
    words[2 * at] = 1 << 20
  words[2 * layout.profileLm + 1] = 1
  const sums = sumsOf(words, layout)
  expect(sums.length).toBe(layout.windowLm)
  expect(sums[layout.fateW]).toBe(2 ** 20 * W_STEP)
  expect(sums[layout.fateLm]).toBe(2 ** 20 * LM_STEP)
  expect(sums[layout.emitted]).toBe(2 ** 20 * W_STEP)
  expect(sums[layout.emitted + 1]).toBe(2 ** 20 * LM_STEP)
  expect(sums[layout.axialLm]).toBe(2 ** 20 * LM_STEP)
  expect(sums[layout.profileLm]).toBe(2 ** 32 * LM_STEP)
})

test('exit records are closed up batch by batch, in the order of the rays', () => {
  const records = new Float32Array(3 * BATCHES * RECORD_FLOATS)
  const put = (ray: number, batch: number) => {
    const at = (ray * BATCHES + batch) * RECORD_FLOATS
    for (let k = 0; k < EXIT_STRIDE; k++) records[at + k] = 100 * ray + batch + k + 1
  }
  put(0, 2)
  put(2, 2)
  put(1, 3)
  expect(Array.from(exitsOf(records, 2))).toEqual([
    ...Array.from({ length: 9 }, (_, k) => 3 + k),
    ...Array.from({ length: 9 }, (_, k) => 203 + k),
  ])
  expect(exitsOf(records, 3).length).toBe(EXIT_STRIDE)
  expect(exitsOf(records, 0).length).toBe(0)
})

test('what is lacking is said in words', async () => {
  expect(await openDevice(undefined)).toEqual({ ok: false, why: 'there is no way to a graphics device here (WebGPU)' })
  const none = { requestAdapter: () => Promise.resolve(null) } as unknown as GPU
  expect(await openDevice(none)).toEqual({ ok: false, why: 'no graphics device offers itself for computing' })
  const scene = sceneOf(iceRink())
  const shape = chooseShape(scene, iceRink())
  const limits = { maxComputeWorkgroupStorageSize: 16384, maxStorageBufferBindingSize: 2 ** 27 } as GPUSupportedLimits
  expect(lacks(scene, shape, limits)).toEqual([])
  expect(lacks(scene, { ...shape, fineBins: 4000 }, limits)).toEqual(['so many profile bins'])
})
