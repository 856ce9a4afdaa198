import type { ComponentChildren } from 'preact';
import type { PicturedPart } from '../../api/pictured.ts';
import type { Rehearsal } from '../../api/rehearsal.ts';
import { partWords } from '../roll-picture/places/walk.ts';

/** What the machine does at the moment, in words and figures. */
export function MomentFacts({
  knife,
  bite,
  line,
  message,
  children,
}: {
  readonly knife: string;
  readonly bite: string;
  readonly line: number;
  readonly message: string | null;
  readonly children: ComponentChildren;
}) {
  return (
    <dl class="rehearsal-facts">
      <Fact name="Knife" className="rehearsal-knife">
        {knife}
      </Fact>
      <Fact name="Bite">{bite}</Fact>
      <Fact name="Line of the program">{line}</Fact>
      <Fact name="Part">{children}</Fact>
      <Fact name="Last message to the operator" className="rehearsal-message">
        <span aria-live="polite">{message ?? 'none yet'}</span>
      </Fact>
    </dl>
  );
}

function Fact({
  name,
  className = '',
  children,
}: {
  readonly name: string;
  readonly className?: string;
  readonly children: ComponentChildren;
}) {
  return (
    <div class={`rehearsal-fact ${className}`}>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

/** All parts in the order in which the knife comes to them: choosing one jumps there. */
export function PartList({
  rehearsal,
  parts,
  label,
  onJump,
}: {
  readonly rehearsal: Rehearsal;
  readonly parts: readonly PicturedPart[];
  readonly label: string;
  readonly onJump: (label: string) => void;
}) {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  const inOrder = [...rehearsal.parts].sort((a, b) => a.move - b.move);
  return (
    <select
      class="rehearsal-parts"
      aria-label="Jump to a part"
      value={label}
      onChange={(event) => onJump(event.currentTarget.value)}
    >
      {label === '' && <option value="">none yet</option>}
      {inOrder.map((one) => {
        const part = byLabel.get(one.label);
        return (
          <option key={one.label} value={one.label}>
            {part === undefined ? one.label : partWords(part)}
          </option>
        );
      })}
    </select>
  );
}
