import type { ReactNode } from "react";
import { Dialog as AriaDialog } from "react-aria-components/Dialog";
import { Heading } from "react-aria-components/Heading";
import { Modal, ModalOverlay } from "react-aria-components/Modal";
import { IconButton } from "./Button.tsx";

/** A sheet over the sheet. Without `onClose` it stays until one of its own buttons settles it. */
export function Dialog({
  title,
  isOpen,
  onClose,
  children,
  foot,
  wide = false,
  urgent = false,
}: {
  readonly title: string;
  readonly isOpen: boolean;
  readonly onClose?: () => void;
  readonly children: ReactNode;
  readonly foot?: ReactNode;
  readonly wide?: boolean;
  /** Read out at once. */
  readonly urgent?: boolean;
}) {
  return (
    <ModalOverlay
      className="veil"
      isOpen={isOpen}
      isDismissable={onClose !== undefined}
      isKeyboardDismissDisabled={onClose === undefined}
      onOpenChange={(open) => {
        if (!open) onClose?.();
      }}
    >
      <Modal className={`dialog-frame${wide ? " wide" : ""}`}>
        <AriaDialog role={urgent ? "alertdialog" : "dialog"}>
          <div className="dialog-head">
            <Heading slot="title" level={2}>
              {title}
            </Heading>
            {onClose === undefined ? null : <IconButton label="Close" sign="close" onPress={onClose} />}
          </div>
          <div className="dialog-body">{children}</div>
          {foot === undefined ? null : <div className="dialog-foot">{foot}</div>}
        </AriaDialog>
      </Modal>
    </ModalOverlay>
  );
}
