import type { JSX } from 'preact';
import type { DefectShape } from '../roll-picture/places/defect.ts';

const tools: readonly (readonly [DefectShape, string, string])[] = [
  ['box', 'Box', 'Draw from corner to corner.'],
  ['ring', 'Ring', 'Draw from the middle outwards.'],
  ['line', 'Line', 'Draw along the fault, from end to end.'],
];

/** What a defect is drawn with on the picture, if with anything. */
export function DefectTools({
  tool,
  onTool,
}: {
  readonly tool: DefectShape | null;
  readonly onTool: (tool: DefectShape | null) => void;
}): JSX.Element {
  const says = tools.find(([shape]) => shape === tool)?.[2] ?? '';
  return (
    <div class="actions" role="group" aria-label="Mark a defect on the picture">
      <span class="quiet" role="status">
        {says}
      </span>
      {tools.map(([shape, words]) => (
        <button
          class={shape === tool ? 'button accent' : 'button'}
          aria-pressed={shape === tool}
          onClick={() => onTool(shape === tool ? null : shape)}
        >
          {words}
        </button>
      ))}
    </div>
  );
}
