// The tables that both languages share, as WGSL: written to shaders/lib by `npm run shaders`, held current by a test.
import { SOBOL_DIMENSIONS } from '../../optics/draws.ts'
import * as ELEMENT_KINDS from '../../optics/elementKinds.ts'
import * as ELEMENT from '../../optics/elementRow.ts'
import * as E from '../../optics/emitterRow.ts'
import * as DRAW from '../../optics/firstDraws.ts'
import * as KIND from '../../optics/kindRow.ts'
import * as P from '../../optics/params.ts'
import * as R from '../../optics/records.ts'
import * as RING from '../../optics/ringRow.ts'
import * as STRETCH from '../../optics/stretchRow.ts'
import * as PART from '../../run/parts.ts'
import { BATCHES, FATES } from '../../run/types.ts'
import { MOST_ELEMENTS, MOST_STRETCHES } from './assemblyTables.ts'
import { BACKWARD_COUNTS, BACKWARD_SCALES } from './backwardSetup.ts'
import { CHUNK_FIELDS, COUNT_FIELDS, PARAM_VECTORS, SCALE_FIELDS, TABLE_FIELDS } from './setup.ts'

const NOTE = '// Written by `npm run shaders` from the tables of src; never by hand.\n'

const constants = (prefix: string, table: Record<string, number>, suffix = 'u') =>
  Object.entries(table)
    .sort((a, b) => a[1] - b[1])
    .map(([name, value]) => `const ${prefix}${name} = ${value}${suffix};\n`)
    .join('')

const struct = (name: string, members: readonly string[]) => `struct ${name} {\n  ${members.join(',\n  ')},\n}\n`

/** Files of shaders/lib by name. */
export function libraryText(): Record<string, string> {
  const { LEAVES_WORKED, LEAVES_FLAT, ENDS_AT_RIM, ENDS_AT_LIMIT, STEP_LIMIT, LENS_STEP_LIMIT } = R
  const { NM_FIRST, NM_STEP, NM_COUNT } = R
  return {
    'records.wgsl':
      NOTE +
      constants('', { LEAVES_WORKED, LEAVES_FLAT, ENDS_AT_RIM, ENDS_AT_LIMIT, STEP_LIMIT, LENS_STEP_LIMIT }) +
      constants('', { SOBOL_DIMENSIONS, BATCHES }) +
      constants('', { NM_FIRST, NM_STEP, NM_COUNT }, '.0'),
    'rows.wgsl':
      NOTE +
      constants('P_', { ...P }) +
      constants('E_', { ...E }) +
      constants('KIND_', { ...KIND }) +
      constants('RING_', { ...RING }) +
      constants('STRETCH_', { ...STRETCH }) +
      constants('ELEMENT_', { ...ELEMENT }) +
      constants('ELEMENT_', { ...ELEMENT_KINDS }) +
      constants('', { MOST_ELEMENTS, MOST_STRETCHES }) +
      constants('DRAW_', { ...DRAW }),
    'fates.wgsl': NOTE + constants('FATE_', Object.fromEntries(FATES.map((name, i) => [name, i]))),
    'parts.wgsl':
      NOTE +
      constants('', {
        ...Object.fromEntries(Object.entries(PART).filter(([, value]) => typeof value === 'number')),
        FIRST_STRETCH: PART.wallPart(0),
      } as Record<string, number>),
    'backwardSetup.wgsl':
      NOTE +
      struct('BackwardSetup', [
        ...BACKWARD_COUNTS.map((name) => `${name}: u32`),
        ...BACKWARD_SCALES.map((name) => `${name}: f32`),
      ]),
    'setup.wgsl':
      NOTE +
      struct('Setup', [
        `params: array<vec4f, ${PARAM_VECTORS}>`,
        ...[...TABLE_FIELDS, ...COUNT_FIELDS].map((name) => `${name}: u32`),
        ...SCALE_FIELDS.map((name) => `${name}: f32`),
      ]) +
      struct(
        'Chunk',
        CHUNK_FIELDS.map((name) => `${name}: u32`),
      ),
  }
}
