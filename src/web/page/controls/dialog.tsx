import type { ComponentChildren, JSX } from 'preact';
import { useId } from 'preact/hooks';

/** A dialog over the page, which Escape closes. */
export function Dialog({
  title,
  onClose,
  children,
}: {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: ComponentChildren;
}): JSX.Element {
  const id = useId();
  return (
    <dialog
      aria-labelledby={id}
      ref={(element) => {
        if (element !== null && !element.open) element.showModal();
      }}
      onClose={onClose}
    >
      <h2 id={id}>{title}</h2>
      {children}
    </dialog>
  );
}
