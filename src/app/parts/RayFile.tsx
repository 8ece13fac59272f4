// "Rays from a file…": a ray file as the light of an emitter type, read by a worker, shown before it is taken.

import { useState } from 'react'
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components'
import type { RaySource } from '../../job/rays/emitterRays.ts'
import { loadRaysInWorker } from '../../job/rays/readClient.ts'
import { fluxFault, underCollimators, withoutRays, withRays } from '../../job/rays/takeRays.ts'
import type { EmitterRays, EmitterType } from '../../lamp/schema.ts'
import { Cancelled } from '../../num/scheduler.ts'
import { HIDDEN_RAYS, rayFileNotes, rayFileRows, raysLine } from '../../report/rayFile.ts'
import { formatNumber } from '../common/units.ts'
import { design, shell } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { pickFile } from '../ui/pickFile.ts'
import { Toggle } from '../ui/Toggle.tsx'
import { ErrorText } from './ErrorText.tsx'
import { ProfilePicture } from './ProfilePicture.tsx'

const RAY_FILE = { accept: '.tm25,.tm25ray,.TM25,.TM25RAY', label: 'Ray file' }

interface Reading {
  name: string
  share: number
  stop(): void
}

interface RayFileProps {
  id: string
  name: string
  children: string
}

export function RayFileButton({ id, name, children }: RayFileProps) {
  const [reading, setReading] = useState<Reading | null>(null)
  const [loaded, setLoaded] = useState<RaySource | null>(null)
  const [why, setWhy] = useState<string | null>(null)

  async function read(file: File): Promise<void> {
    const control = new AbortController()
    const at = { name: file.name, stop: () => control.abort() }
    const refuse = (line: string) => shell.setState({ fileError: { file: file.name, why: [line] } })
    setReading({ ...at, share: 0 })
    try {
      const answer = await loadRaysInWorker(file, (share) => setReading({ ...at, share }), control.signal)
      if (answer.ok) setLoaded(answer.loaded)
      else refuse(answer.why)
    } catch (error) {
      if (!(error instanceof Cancelled)) refuse(error instanceof Error ? error.message : String(error))
    } finally {
      setReading(null)
    }
  }

  return (
    <>
      <Button
        kind="quiet"
        name={name}
        hint="Read a ray file (IES TM-25): its z axis becomes the emitter’s axis, each ray starts where the file has it"
        onPress={() => pickFile(RAY_FILE, (file) => void read(file))}
      >
        {children}
      </Button>
      <ErrorText why={why} />
      {reading && <ReadingDialog reading={reading} />}
      {loaded && (
        <TakeDialog
          id={id}
          loaded={loaded}
          onCancel={() => setLoaded(null)}
          onTake={(how) => {
            setWhy(tryEdit(design, 'Emitter: rays from a file', (lamp) => withRays(lamp, id, loaded, how)))
            setLoaded(null)
          }}
        />
      )}
    </>
  )
}

function ReadingDialog({ reading }: { reading: Reading }) {
  return (
    <ModalOverlay className="parts-over" isOpen onOpenChange={(open) => open || reading.stop()}>
      <Modal className="ui-popover parts-modal">
        <Dialog className="parts-modal-body">
          <Heading slot="title">Reading “{reading.name}”</Heading>
          <progress
            className="parts-progress"
            max={1}
            value={reading.share}
            aria-label="Part of the file that is read"
          />
          <div className="parts-modal-buttons">
            <Button onPress={reading.stop}>Stop</Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}

interface TakeDialogProps {
  id: string
  loaded: RaySource
  onCancel(): void
  onTake(how: { centred: boolean; flux: boolean }): void
}

function TakeDialog({ id, loaded, onCancel, onTake }: TakeDialogProps) {
  const system = useUnitSystem()
  const [flux, setFlux] = useState(false)
  const [centred, setCentred] = useState(false)
  const lamp = design.lamp()
  const type = lamp.emitterTypes.find((e) => e.id === id) ?? lamp.emitterTypes[0]!
  const { fileLm, middleMm } = loaded.facts
  const fault = fluxFault(fileLm)
  const off = middleMm.some((v) => Math.abs(v) >= 0.01)
  return (
    <ModalOverlay className="parts-over" isDismissable isOpen onOpenChange={(open) => open || onCancel()}>
      <Modal className="ui-popover parts-modal">
        <Dialog className="parts-modal-body">
          <Heading slot="title">Rays of “{loaded.rays.fileName}”</Heading>
          {loaded.profile && <ProfilePicture profile={loaded.profile as EmitterType['profile'] & { kind: 'table' }} />}
          <dl className="parts-facts">
            {rayFileRows(loaded, system).map(([label, value]) => (
              <div key={label}>
                <dt>{label}</dt>
                <dd>{value}</dd>
              </div>
            ))}
          </dl>
          <ul className="parts-modal-notes">
            {rayFileNotes(loaded, type, system).map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
          {underCollimators(lamp, id) && <p className="parts-modal-say">{HIDDEN_RAYS}</p>}
          {off && (
            <Toggle
              label="Move their middle onto the emitter"
              description={`By ${middleMm.map((v) => formatNumber(-v)).join(', ')} mm: the middle of the light in x and y, its lowest start in z`}
              value={centred}
              onChange={setCentred}
            />
          )}
          {fault === null ? (
            <Toggle
              label={`Use its lumens too: ${formatNumber(fileLm ?? 0)} lm`}
              description="As the emitter’s flux at its rated current and junction temperature"
              value={flux}
              onChange={setFlux}
            />
          ) : (
            <p className="parts-note">Its lumens can’t be the emitter’s flux. {fault}</p>
          )}
          <div className="parts-modal-buttons">
            <Button onPress={onCancel}>Cancel</Button>
            <Button kind="strong" onPress={() => onTake({ centred, flux })}>
              Use it
            </Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}

/** In place of source and profile: the rays that are traced. */
export function EmitterRaysRows({ id, type, rays }: { id: string; type: EmitterType; rays: EmitterRays }) {
  const [why, setWhy] = useState<string | null>(null)
  const { profile } = type
  return (
    <>
      <p className="parts-rays">Light: {raysLine(rays)}.</p>
      {(profile.kind === 'table' || profile.kind === 'map') && <ProfilePicture profile={profile} />}
      <div className="parts-buttons parts-from-file">
        <RayFileButton id={id} name="Rays from another file">
          Another file…
        </RayFileButton>
        <Button
          kind="quiet"
          hint="The light is then that of a source and a profile that come near to the rays"
          onPress={() => setWhy(tryEdit(design, 'Emitter: rays taken out', (lamp) => withoutRays(lamp, id)))}
        >
          Take the rays out
        </Button>
      </div>
      <ErrorText why={why} />
    </>
  )
}
