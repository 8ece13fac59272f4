// The tracer's shader: plain texts one after another.
import bindings from '../../../shaders/kernels/bindings.wgsl?raw'
import tally from '../../../shaders/kernels/tally.wgsl?raw'
import trace from '../../../shaders/kernels/trace.wgsl?raw'
import waiting from '../../../shaders/kernels/waiting.wgsl?raw'
import walk from '../../../shaders/kernels/walk.wgsl?raw'
import fates from '../../../shaders/lib/fates.wgsl?raw'
import records from '../../../shaders/lib/records.wgsl?raw'
import rows from '../../../shaders/lib/rows.wgsl?raw'
import setup from '../../../shaders/lib/setup.wgsl?raw'
import cone from '../../../shaders/optics/cone.wgsl?raw'
import cup from '../../../shaders/optics/cup.wgsl?raw'
import direct from '../../../shaders/optics/direct.wgsl?raw'
import draws from '../../../shaders/optics/draws.wgsl?raw'
import emission from '../../../shaders/optics/emission.wgsl?raw'
import face from '../../../shaders/optics/face.wgsl?raw'
import grooves from '../../../shaders/optics/grooves.wgsl?raw'
import idealLens from '../../../shaders/optics/idealLens.wgsl?raw'
import surface from '../../../shaders/optics/interface.wgsl?raw'
import profiles from '../../../shaders/optics/profiles.wgsl?raw'
import ray from '../../../shaders/optics/ray.wgsl?raw'
import sobol from '../../../shaders/optics/sobol.wgsl?raw'
import solidLens from '../../../shaders/optics/solidLens.wgsl?raw'
import turn from '../../../shaders/optics/turn.wgsl?raw'
import wall from '../../../shaders/optics/wall.wgsl?raw'

const LIBRARY = [records, rows, fates, setup]
const OPTICS = [draws, sobol, turn, ray, cone, surface, profiles, emission, cup, wall, face, idealLens]

const NO_GROOVES = `
const BEFORE_FLAT = 10u;
fn passDirect() -> u32 { return ENDS_AT_LIMIT; }
fn enterFresnel(fromGrooves: bool) -> u32 { return ENDS_AT_LIMIT; }
fn stepFresnel(state: u32) -> u32 { return ENDS_AT_LIMIT; }
`

/** The tracer for a kind of lens (params.lensKind). A lens that isn't there is not compiled: some drivers take seconds for the grooves. */
export function traceShader(lensKind: number): string {
  const lens = [
    lensKind === 2 ? solidLens : 'fn passSolid(fromCurved: bool) -> u32 { return ENDS_AT_LIMIT; }',
    lensKind === 3 ? grooves + direct : NO_GROOVES,
  ]
  return [...LIBRARY, bindings, ...OPTICS, ...lens, tally, walk, waiting, trace].join('\n')
}
