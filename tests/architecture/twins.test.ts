// Every shader of the optics is the twin of a file of src/optics: the same functions, by the same names, in the same order. What stands on one
// side only is listed here with its reason; an entry that is no longer needed fails as well.
import { describe, expect, test } from 'vitest'
import { files, textOf } from './tree.ts'

const SHADERS = 'shaders/optics/'
const SOURCES = 'src/optics/'

const NO_SOURCE: Record<string, string> = {
  ray: 'a struct in the place of records.ts: a shader has no array of slots to hand about',
}

const NO_SHADER: Record<string, string> = {
  boardRow: 'offsets; packed as four vectors a board (sceneTables.ts)',
  elementKinds: 'numbers: written into shaders/lib/rows.wgsl by a script',
  elementRow: 'offsets: written into shaders/lib/rows.wgsl by a script',
  emitterRow: 'offsets: written into shaders/lib/rows.wgsl by a script',
  firstDraws: 'offsets: written into shaders/lib/rows.wgsl by a script',
  frameRow: 'offsets; packed as three vectors an emitter (sceneTables.ts)',
  grooveStates: 'constants of grooves.ts, which its shader holds itself; compared below',
  kindRow: 'offsets: written into shaders/lib/rows.wgsl by a script',
  params: 'offsets: written into shaders/lib/rows.wgsl by a script',
  rayTable: 'the device declines sources of single rays (gpuEngine.ts)',
  records: 'slots of the ray: fields of the struct in ray.wgsl, numbers in shaders/lib/records.wgsl',
  ringRow: 'offsets: written into shaders/lib/rows.wgsl by a script',
  scrambles: 'made on the processor once a seed and sent to the device',
  slopes: 'used when a scene is made, not when it is traced',
  stretchRow: 'offsets: written into shaders/lib/rows.wgsl by a script',
  'wasm/constantsText': 'writes constants of the kernels in WebAssembly',
  'wasm/machine': 'an instance of a kernel in WebAssembly',
  'wasm/slots': 'addresses in the memory of such a kernel',
}

const SINGLE = 'single precision: a number in (0, 1) loses digits near 1 that its 24 bits still have'
const MAKING = 'used when a scene is made, or by tests'

/** Functions that only the shader has. */
const SHADER_ONLY: Record<string, string> = {
  'draws.numberOf': SINGLE,
  'draws.restOf': SINGLE,
  'draws.runOf': 'the half of seedStream that a workgroup does once',
  'grooves.enterFresnel':
    'the beginning of passFresnel: the kernel turns its loop, so that lanes take up other rays meanwhile',
  'grooves.stepFresnel': 'one turn of the loop of passFresnel',
  'profiles.minusLnBeside': SINGLE,
  'solidLens.beyond': 'outline.ts for a circle about the axis',
  'wallBack.cross3': 'a product written out on the processor',
  'profiles.minusLn': 'the built-in logarithm is good to 2⁻²¹ near 1',
  'turn.turnOfDraw': SINGLE,
  'wall.sideTurn': 'built-in sines are good to three digits by the standard: a table made beside the scene',
}

/** Functions that only the processor has. */
const SOURCE_ONLY: Record<string, string> = {
  'boards.findBoard':
    'the half of meetsBoard that an assembled lamp asks; there the device declines such boards (gpuEngine.ts)',
  'emitterFrame.enterFrame': 'traced backwards on the processor only (backwardEngine.ts)',
  'grooves.passFresnel': 'one loop; the kernel has it in two parts (enterFresnel, stepFresnel)',
  'interface.fresnelMean': 'by its formula, for tests; the tracer multiplies it out (refracts)',
  'profiles.densityOfPower': MAKING,
  'profiles.uFromPower': MAKING,
  'profiles.powerFromFwhm': MAKING,
  'profiles.tableFromProfile': MAKING,
  'profiles.packTable': MAKING,
  'profiles.densityOfTable': MAKING,
  'profiles.uFromTable': MAKING,
  'profiles.intensityAt': MAKING,
  'sobol.directionNumbers': 'the scrambled numbers are made once a batch, beside the shader',
  'sobol.parity': 'the scrambled numbers are made once a batch, beside the shader',
  'sobol.scrambledNumbers': 'the scrambled numbers are made once a batch, beside the shader',
  'sobol.sobolUnits': 'a shader keeps the bits of a point and takes what it needs of them (unit, turnOfDraw)',
  'solidLens.move': 'one sum of vectors in a shader',
}

const names = (folder: string, ending: string) =>
  files()
    .filter((path) => path.startsWith(folder) && path.endsWith(ending))
    .map((path) => path.slice(folder.length, -ending.length))

const functionsIn = (path: string, pattern: RegExp) => [...textOf(path).matchAll(pattern)].map((m) => m[1]!)
const shaderFunctions = (name: string) => functionsIn(`${SHADERS}${name}.wgsl`, /^fn (\w+)/gm)
const sourceFunctions = (name: string) => functionsIn(`${SOURCES}${name}.ts`, /^(?:export )?function\*? (\w+)/gm)

const pairs = names(SHADERS, '.wgsl').filter((name) => !(name in NO_SOURCE))

test('every file has its twin, or a reason', () => {
  const shaders = names(SHADERS, '.wgsl')
  const sources = names(SOURCES, '.ts')
  expect(shaders.filter((name) => !sources.includes(name))).toEqual(Object.keys(NO_SOURCE))
  expect(sources.filter((name) => !shaders.includes(name))).toEqual(Object.keys(NO_SHADER))
  for (const name of pairs) expect(textOf(`${SHADERS}${name}.wgsl`), name).toMatch(/^\/\/ (The )?[Tt]win of/)
})

describe('the same functions in the same order', () => {
  test.each(pairs)('%s', (name) => {
    const shader = shaderFunctions(name).filter((f) => !(`${name}.${f}` in SHADER_ONLY))
    const source = sourceFunctions(name).filter((f) => !(`${name}.${f}` in SOURCE_ONLY))
    expect(shaderFunctions(name).length).toBeGreaterThan(0)
    expect(shader).toEqual(source)
  })
})

test('no exception that is none', () => {
  const found = (of: (name: string) => string[]) => pairs.flatMap((name) => of(name).map((f) => `${name}.${f}`))
  const [shader, source] = [found(shaderFunctions), found(sourceFunctions)]
  for (const key of Object.keys(SHADER_ONLY)) {
    expect(shader).toContain(key)
    expect(source).not.toContain(key)
  }
  for (const key of Object.keys(SOURCE_ONLY)) {
    expect(source).toContain(key)
    expect(shader).not.toContain(key)
  }
})

test('states of the walk through grooves are the same numbers', () => {
  const constants = (text: string) =>
    Object.fromEntries([...text.matchAll(/^(?:export )?const ([A-Z_]+) = (\d+)u?;?$/gm)].map((m) => [m[1]!, m[2]!]))
  const source = constants(textOf('src/optics/grooveStates.ts'))
  expect(Object.keys(source).length).toBeGreaterThan(10)
  expect(constants(textOf('shaders/optics/grooves.wgsl'))).toEqual(source)
})
