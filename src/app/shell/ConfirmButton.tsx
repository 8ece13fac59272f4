import { Dialog, DialogTrigger, Heading, Modal, ModalOverlay } from 'react-aria-components'
import { Button } from '../ui/Button.tsx'

export interface ConfirmButtonProps {
  button: string
  name: string
  title: string
  text: string
  yes: string
  onYes(): void
}

/** A button that asks for confirmation. */
export function ConfirmButton(p: ConfirmButtonProps) {
  return (
    <DialogTrigger>
      <Button kind="quiet" name={p.name}>
        {p.button}
      </Button>
      <ModalOverlay className="shell-over">
        <Modal className="ui-popover shell-modal">
          <Dialog role="alertdialog" className="shell-modal-body">
            <Heading slot="title">{p.title}</Heading>
            <p>{p.text}</p>
            <div className="shell-modal-buttons">
              <Button slot="close">Keep it</Button>
              <Button kind="danger" slot="close" onPress={p.onYes}>
                {p.yes}
              </Button>
            </div>
          </Dialog>
        </Modal>
      </ModalOverlay>
    </DialogTrigger>
  )
}
