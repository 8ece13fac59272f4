// Angular profile of an emitter: a formula with one width, a table, or a photometric file.
import { underCollimators } from '../../job/rays/takeRays.ts'
import { profile } from '../../lamp/parts.ts'
import type { EmitterType, Lamp, Profile } from '../../lamp/schema.ts'
import { useDesign } from '../store/stores.ts'
import { newProfile } from './defaults.ts'
import { LampChoice, LampNumber } from './fields.tsx'
import { withProfile } from './importProfile.ts'
import { asTable } from './model/emitterCurve.ts'
import { ProfileFile } from './ProfileFile.tsx'
import { ProfilePicture } from './ProfilePicture.tsx'
import { ProfileRows } from './ProfileRows.tsx'
import { RayFileButton } from './RayFile.tsx'

const [cosine, gaussian] = profile.options
type Kind = Profile['kind']

const at = (lamp: Lamp, id: string): EmitterType => lamp.emitterTypes.find((e) => e.id === id) ?? lamp.emitterTypes[0]!

const KINDS: readonly { key: Kind; name: string }[] = [
  { key: 'cosine', name: 'cosine' },
  { key: 'gaussian', name: 'Gaussian' },
  { key: 'table', name: 'table' },
]

export function EmitterAngle({ id }: { id: string }) {
  const profile = useDesign((s) => at(s.lamp, id).profile)
  const { kind } = profile
  return (
    <>
      <LampChoice
        label="Profile"
        segments={kind !== 'map'}
        description="How its light falls off with angle: a power of the cosine, a Gaussian, or a table. A collimator by data sheet puts its own in place"
        options={kind === 'map' ? [...KINDS, { key: 'map', name: 'by direction' }] : KINDS}
        read={(lamp) => at(lamp, id).profile.kind}
        write={(lamp, key) => withProfile(lamp, id, { profile: profileOf(key, at(lamp, id).profile) })}
      />
      {kind === 'table' || kind === 'map' ? (
        <ProfilePicture profile={profile} />
      ) : (
        <LampNumber
          label="Viewing angle, full"
          unit="deg"
          step={1}
          of={kind === 'cosine' ? cosine.shape.fwhmDeg : gaussian.shape.fwhmDeg}
          description="Between the directions of half the intensity; 120° is a flat (Lambertian) emitter"
          read={(lamp) => {
            const now = at(lamp, id).profile
            return 'fwhmDeg' in now ? now.fwhmDeg : null
          }}
          write={(lamp, fwhmDeg) => withProfile(lamp, id, { profile: { kind, fwhmDeg } })}
        />
      )}
      <ProfileFile
        axisOf="emitter"
        hidden={(lamp) => (underCollimators(lamp, id) ? UNDER_COLLIMATORS : null)}
        hasFlux
        take={(lamp, part, from) => withProfile(lamp, id, part, from)}
        beside={
          <RayFileButton id={id} name="Rays from a file">
            Rays from a file…
          </RayFileButton>
        }
      />
      {kind === 'table' && (
        <ProfileRows
          of="emitterProfile"
          edits="Emitter"
          title="Light over angle"
          count={profile.thetaDeg.length}
          read={(lamp) => at(lamp, id).profile}
          write={(lamp, profile) => withProfile(lamp, id, { profile })}
        />
      )}
    </>
  )
}

const UNDER_COLLIMATORS =
  'All emitters of this type stand under collimators by data sheet. These put their own light over angle in place; this one shows where an emitter is bare or in a reflector cup.'

export function profileOf(key: Kind, old: Profile): Profile {
  if (key === 'map') return old
  return key === 'table' ? asTable(old) : newProfile(key, old)
}
