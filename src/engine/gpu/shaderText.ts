// The tracer's shader: plain texts one after another.
import backward from '../../../shaders/kernels/backward.wgsl?raw'
import backwardOpening from '../../../shaders/kernels/backwardOpening.wgsl?raw'
import backwardRadiance from '../../../shaders/kernels/backwardRadiance.wgsl?raw'
import backwardSetup from '../../../shaders/kernels/backwardSetup.wgsl?raw'
import backwardSpectrum from '../../../shaders/kernels/backwardSpectrum.wgsl?raw'
import backwardWalk from '../../../shaders/kernels/backwardWalk.wgsl?raw'
import bindings from '../../../shaders/kernels/bindings.wgsl?raw'
import tally from '../../../shaders/kernels/tally.wgsl?raw'
import trace from '../../../shaders/kernels/trace.wgsl?raw'
import waiting from '../../../shaders/kernels/waiting.wgsl?raw'
import walk from '../../../shaders/kernels/walk.wgsl?raw'
import backwardSetupFields from '../../../shaders/lib/backwardSetup.wgsl?raw'
import fates from '../../../shaders/lib/fates.wgsl?raw'
import records from '../../../shaders/lib/records.wgsl?raw'
import rows from '../../../shaders/lib/rows.wgsl?raw'
import setup from '../../../shaders/lib/setup.wgsl?raw'
import cone from '../../../shaders/optics/cone.wgsl?raw'
import cup from '../../../shaders/optics/cup.wgsl?raw'
import cupBack from '../../../shaders/optics/cupBack.wgsl?raw'
import density from '../../../shaders/optics/density.wgsl?raw'
import direct from '../../../shaders/optics/direct.wgsl?raw'
import draws from '../../../shaders/optics/draws.wgsl?raw'
import emission from '../../../shaders/optics/emission.wgsl?raw'
import emitterFrame from '../../../shaders/optics/emitterFrame.wgsl?raw'
import face from '../../../shaders/optics/face.wgsl?raw'
import grooves from '../../../shaders/optics/grooves.wgsl?raw'
import groovesBack from '../../../shaders/optics/groovesBack.wgsl?raw'
import idealLens from '../../../shaders/optics/idealLens.wgsl?raw'
import surface from '../../../shaders/optics/interface.wgsl?raw'
import outline from '../../../shaders/optics/outline.wgsl?raw'
import profiles from '../../../shaders/optics/profiles.wgsl?raw'
import ray from '../../../shaders/optics/ray.wgsl?raw'
import sobol from '../../../shaders/optics/sobol.wgsl?raw'
import solidLens from '../../../shaders/optics/solidLens.wgsl?raw'
import turn from '../../../shaders/optics/turn.wgsl?raw'
import wall from '../../../shaders/optics/wall.wgsl?raw'
import wallBack from '../../../shaders/optics/wallBack.wgsl?raw'

const LIBRARY = [records, rows, fates, setup]
const OPTICS = [draws, sobol, turn, ray, cone, surface, profiles, emission, emitterFrame, cup, wall, face, idealLens]

const NO_GROOVES = `
const BEFORE_FLAT = 10u;
fn passDirect() -> u32 { return ENDS_AT_LIMIT; }
fn enterFresnel(fromGrooves: bool) -> u32 { return ENDS_AT_LIMIT; }
fn stepFresnel(state: u32) -> u32 { return ENDS_AT_LIMIT; }
`

/** Forward rays don't ask for these: `BACK` is false. */
const NO_TIPS = `
fn backThroughTip() -> bool { return false; }
fn backOntoTip(ring: u32) -> bool { return false; }
`

/** A lens that isn't there is not compiled: some drivers take seconds for the grooves. */
function lensText(lensKind: number, tips: string): string[] {
  return [
    lensKind === 2 ? solidLens : 'fn passSolid(fromCurved: bool) -> u32 { return ENDS_AT_LIMIT; }',
    lensKind === 3 ? outline + grooves + direct + tips : NO_GROOVES,
  ]
}

/** The tracer for a kind of lens (params.lensKind). */
export const traceShader = (lensKind: number): string =>
  [...LIBRARY, bindings, ...OPTICS, ...lensText(lensKind, NO_TIPS), tally, walk, waiting, trace].join('\n')

/** The backward tracer for a kind of lens. */
export const backwardShader = (lensKind: number): string =>
  [
    ...[...LIBRARY, backwardSetupFields, bindings, backwardSetup, ...OPTICS, cupBack, density, wallBack],
    ...lensText(lensKind, groovesBack),
    ...[backwardOpening, backwardSpectrum, backwardRadiance, backwardWalk, backward],
  ].join('\n')
