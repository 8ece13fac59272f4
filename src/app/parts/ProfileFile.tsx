// "From a file…": an emitter's light over angle, and if wanted its lumens, out of a photometric file.
import { useState } from 'react'
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components'
import type { Lamp } from '../../lamp/schema.ts'
import { showNumber } from '../common/units.ts'
import { design, shell } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Button } from '../ui/Button.tsx'
import { Toggle } from '../ui/Toggle.tsx'
import { angleIsOptics, lumensFault, readProfileFile, type TakenProfile, withProfile } from './importProfile.ts'
import { ProfilePicture } from './ProfilePicture.tsx'
import { Refusal } from './Refusal.tsx'

export function ProfileFile({ id }: { id: string }) {
  const [taken, setTaken] = useState<TakenProfile | null>(null)
  const [why, setWhy] = useState<string | null>(null)
  return (
    <>
      <div className="parts-buttons parts-from-file">
        <Button
          kind="quiet"
          name="Profile from a file"
          hint="Read an LM-63 photometric file (*.ies): its straight down becomes the emitter’s axis"
          onPress={() =>
            pickFile((file) =>
              readProfileFile(file, {
                take: setTaken,
                refuse: (name, lines) => shell.setState({ refused: { file: name, why: lines } }),
              }),
            )
          }
        >
          From a file…
        </Button>
      </div>
      <Refusal why={why} />
      {taken && (
        <TakeIt
          taken={taken}
          hidden={angleIsOptics(design.lamp(), id)}
          onLeave={() => setTaken(null)}
          onTake={(part) => {
            const from = `${taken.file}. ${taken.note}`
            setWhy(tryEdit(design, 'Emitter: profile from a file', (lamp) => withProfile(lamp, id, part, from)))
            setTaken(null)
          }}
        />
      )}
    </>
  )
}

interface TakeItProps {
  taken: TakenProfile
  /** Its emitters' optics put a profile of their own in place. */
  hidden: boolean
  onLeave(): void
  onTake(part: { profile: Lamp['emitterTypes'][number]['profile']; fluxLm?: number }): void
}

function TakeIt({ taken, hidden, onLeave, onTake }: TakeItProps) {
  const [lumens, setLumens] = useState(false)
  const fault = lumensFault(taken.fluxLm)
  return (
    <ModalOverlay className="parts-over" isDismissable isOpen onOpenChange={(open) => open || onLeave()}>
      <Modal className="ui-popover parts-modal">
        <Dialog className="parts-modal-body">
          <Heading slot="title">Light of “{taken.file}”</Heading>
          <ProfilePicture given={taken.profile} />
          <ul className="parts-modal-notes">
            {[taken.note, ...taken.notes].map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
          {hidden && (
            <p className="parts-modal-say">
              All emitters of this type stand under collimators by data sheet. These put their own light over angle in
              place; this one shows where an emitter is bare or in a reflector cup.
            </p>
          )}
          <Toggle
            label={`Take its lumens too: ${showNumber(taken.fluxLm)} lm`}
            does="As the emitter’s flux at its rated current and junction temperature; up to 90° from the axis"
            value={lumens && fault === null}
            isDisabled={fault !== null}
            onChange={setLumens}
          />
          {fault !== null && <p className="parts-note">Its lumens can’t be an emitter’s. {fault}</p>}
          <div className="parts-modal-buttons">
            <Button onPress={onLeave}>Leave it</Button>
            <Button
              kind="strong"
              onPress={() =>
                onTake(
                  lumens && fault === null
                    ? { profile: taken.profile, fluxLm: taken.fluxLm }
                    : { profile: taken.profile },
                )
              }
            >
              Take it
            </Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}

function pickFile(take: (file: File) => void) {
  const input = document.createElement('input')
  input.type = 'file'
  input.accept = '.ies,.IES,text/plain'
  input.setAttribute('aria-label', 'Photometric file')
  input.addEventListener('change', () => {
    const file = input.files?.[0]
    if (file) take(file)
  })
  input.click()
}
