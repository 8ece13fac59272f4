// "From a file…": imports the angular profile of an emitter or a collimator, and an emitter's lumens if wished, from a photometric file.
import { type ReactNode, useState } from 'react'
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components'
import type { Lamp } from '../../lamp/schema.ts'
import { formatNumber } from '../common/units.ts'
import { design, shell } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Button } from '../ui/Button.tsx'
import { pickFile } from '../ui/pickFile.ts'
import { Toggle } from '../ui/Toggle.tsx'
import { ErrorText } from './ErrorText.tsx'
import { type ImportedProfile, lumensFault, readProfileFile } from './importProfile.ts'
import { ProfilePicture } from './ProfilePicture.tsx'

const PHOTOMETRIC_FILE = { accept: '.ies,.IES,text/plain', label: 'Photometric file' }

interface ProfileFileProps {
  /** What its straight down becomes the axis of. */
  axisOf: 'emitter' | 'optic'
  /** Said where the profile doesn't count, from the lamp as it is. */
  hidden?(lamp: Lamp): string | null
  /** Whether the file's lumens may be taken as well. */
  hasFlux: boolean
  take(lamp: Lamp, part: TakenProfile, from: string): Lamp
  /** A button beside this one. */
  beside?: ReactNode
}

interface TakenProfile {
  profile: ImportedProfile['profile']
  fluxLm?: number
}

export function ProfileFile({ axisOf, hidden, hasFlux, take, beside }: ProfileFileProps) {
  const [imported, setImported] = useState<ImportedProfile | null>(null)
  const [why, setWhy] = useState<string | null>(null)
  return (
    <>
      <div className="parts-buttons parts-from-file">
        <Button
          kind="quiet"
          name={axisOf === 'emitter' ? 'Profile from a file' : 'Beam from a file'}
          hint={`Read an LM-63 photometric file (*.ies): its straight down becomes the ${axisOf}’s axis`}
          onPress={() =>
            pickFile(PHOTOMETRIC_FILE, (file) =>
              readProfileFile(file, {
                onProfile: setImported,
                onRefused: (name, lines) => shell.setState({ fileError: { file: name, why: lines } }),
              }),
            )
          }
        >
          From a file…
        </Button>
        {beside}
      </div>
      <ErrorText why={why} />
      {imported && (
        <ImportDialog
          imported={imported}
          hidden={hidden?.(design.lamp()) ?? null}
          hasFlux={hasFlux}
          onCancel={() => setImported(null)}
          onImport={(part) => {
            const from = `${imported.file}. ${imported.note}`
            const label = axisOf === 'emitter' ? 'Emitter: profile from a file' : 'Optic: beam from a file'
            setWhy(tryEdit(design, label, (lamp) => take(lamp, part, from)))
            setImported(null)
          }}
        />
      )}
    </>
  )
}

interface ImportDialogProps {
  imported: ImportedProfile
  hidden: string | null
  hasFlux: boolean
  onCancel(): void
  onImport(part: TakenProfile): void
}

function ImportDialog({ imported, hidden, hasFlux, onCancel, onImport }: ImportDialogProps) {
  const [lumens, setLumens] = useState(false)
  const fault = lumensFault(imported.fluxLm)
  return (
    <ModalOverlay className="parts-over" isDismissable isOpen onOpenChange={(open) => open || onCancel()}>
      <Modal className="ui-popover parts-modal">
        <Dialog className="parts-modal-body">
          <Heading slot="title">Light of “{imported.file}”</Heading>
          <ProfilePicture profile={imported.profile} />
          <ul className="parts-modal-notes">
            {[imported.note, ...imported.notes].map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
          {hidden !== null && <p className="parts-modal-say">{hidden}</p>}
          {hasFlux && (
            <Toggle
              label={`Use its lumens too: ${formatNumber(imported.fluxLm)} lm`}
              description="As the emitter’s flux at its rated current and junction temperature; up to 90° from the axis"
              value={lumens && fault === null}
              isDisabled={fault !== null}
              onChange={setLumens}
            />
          )}
          {hasFlux && fault !== null && <p className="parts-note">Its lumens can’t be an emitter’s. {fault}</p>}
          <div className="parts-modal-buttons">
            <Button onPress={onCancel}>Cancel</Button>
            <Button
              kind="strong"
              onPress={() =>
                onImport(
                  lumens && fault === null
                    ? { profile: imported.profile, fluxLm: imported.fluxLm }
                    : { profile: imported.profile },
                )
              }
            >
              Use it
            </Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}
