import type { JSX } from 'preact';
import type { Placement } from '../../../lay/lay.ts';
import type { PicturedPart } from '../../api/pictured.ts';
import { placePart } from '../roll-picture/places/placing.ts';
import { boxWords } from '../roll-picture/places/walk.ts';
import { handWords } from '../words.ts';

/** The part that is looked at: whose it is, how it lies, its edges, what comes next and what it meets. */
export function PartCard({
  part,
  place,
  isPinned,
}: {
  part: PicturedPart | null;
  place: Placement | null;
  isPinned: boolean;
}): JSX.Element {
  if (part === null) {
    return (
      <aside class="card part-card" aria-label="The part that is looked at">
        <h2>No part chosen</h2>
        <p class="quiet">
          Point at a part to see whose it is. Click it to keep it here; drag it to lay it by hand.
        </p>
        <p class="quiet">
          By keyboard: go into the picture and walk with N and P; the arrows move.
        </p>
      </aside>
    );
  }
  const { name, order, set, hand, side, edges, next, neighbours } = part;
  return (
    <aside class="card part-card" aria-label={`Part ${part.label}`}>
      <div>
        <h2>{name}</h2>
        <p>
          Order {order}, set {set}, {handWords(hand)}
          {side !== null && `, ${side} side`}
        </p>
        <p class="quiet">{part.label}</p>
        {place !== null && (
          <p>
            {boxWords(placePart(part, place).box)}, turned {Math.round(place.rotation * 10) / 10}°
            {isPinned && ', pinned'}
          </p>
        )}
      </div>
      <EdgeSketch part={part} />
      <div>
        <Section title="Edges">
          {edges.map((edge) => (
            <li>
              {Math.round(edge.length)} mm {edge.words}
              {edge.name !== null && <span class="quiet"> ({edge.name})</span>}
            </li>
          ))}
        </Section>
      </div>
      <div>
        <Section title="Then">
          {next.map((words) => (
            <li>{words}</li>
          ))}
        </Section>
        <Section title="In the vehicle">
          {neighbours.map((words) => (
            <li>{words}</li>
          ))}
        </Section>
      </div>
    </aside>
  );
}

function Section({
  title,
  children,
}: {
  title: string;
  children: JSX.Element[];
}): JSX.Element | null {
  if (children.length === 0) return null;
  return (
    <>
      <h3>{title}</h3>
      <ul class="plain" role="list">
        {children}
      </ul>
    </>
  );
}

/** The part alone, turned as in the vehicle. The line of an edge tells what happens to it. */
function EdgeSketch({ part }: { part: PicturedPart }): JSX.Element {
  const [minX, minY, maxX, maxY] = part.box;
  const pad = Math.max(maxX - minX, maxY - minY) * 0.06;
  const viewBox = `${minX - pad} ${-maxY - pad} ${maxX - minX + 2 * pad} ${maxY - minY + 2 * pad}`;
  return (
    <figure class="edge-sketch">
      <svg viewBox={viewBox} role="img" aria-label={`Shape of ${part.name}`}>
        <g transform="scale(1 -1)">
          <path class="body" d={part.d} />
          {part.edges.map(({ kind, d }) => (
            <path class={`edge ${kind}`} d={d} />
          ))}
        </g>
      </svg>
      <figcaption>
        {[...new Set(part.edges.map(({ kind }) => kind))].map((kind) => (
          <span>
            <svg viewBox="0 0 30 8" aria-hidden="true">
              <path class={`edge ${kind}`} d="M1 4H29" />
            </svg>
            {kind}
          </span>
        ))}
      </figcaption>
    </figure>
  );
}
