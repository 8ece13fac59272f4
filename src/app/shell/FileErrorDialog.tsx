// The errors of an invalid file: each field, its value, and what is allowed.
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components'
import { Button } from '../ui/Button.tsx'
import { shell, useShell } from './page.ts'

export function FileErrorDialog() {
  const fileError = useShell((s) => s.fileError)
  return (
    <ModalOverlay
      className="shell-over"
      isDismissable
      isOpen={fileError !== null}
      onOpenChange={(open) => open || shell.setState({ fileError: null })}
    >
      <Modal className="ui-popover shell-modal">
        <Dialog role="alertdialog" className="shell-modal-body">
          <Heading slot="title">
            {fileError?.link ? 'The lamp in the link' : `“${fileError?.file}”`} was not opened
          </Heading>
          <p>The lamp on the sheet is as it was. {fileError?.link ? 'In the link:' : 'In the file:'}</p>
          <ul className="shell-why">
            {fileError?.why.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
          <div className="shell-modal-buttons">
            <Button slot="close">Close</Button>
          </div>
        </Dialog>
      </Modal>
    </ModalOverlay>
  )
}
