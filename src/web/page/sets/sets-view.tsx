import type { JSX } from 'preact';
import { addressOf } from '../address.ts';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';
import { counted } from '../words.ts';
import { TakeDrawing } from './sight/take-drawing.tsx';

/** The pattern sets of the shop, and where a drawing is dropped to become one. */
export function SetsView(): JSX.Element {
  const shop = useLoaded(() => calls.shop(), []);
  return (
    <div class="view">
      <h1>Sets</h1>
      <TakeDrawing words="Choose a drawing" isLarge />
      <Findings findings={[...shop.findings, ...(shop.value?.findings ?? [])]} />
      <ul class="cards" role="list">
        {(shop.value?.sets ?? []).map(({ name, title, drawn, pieces, colours }) => (
          <li class="card">
            <h2>
              <a href={addressOf('sets', name)}>{title}</a>
            </h2>
            <p class="quiet">patterns/{name}</p>
            <p>
              {counted(pieces.length, 'piece')}, drawn for {drawn}
              {colours !== null && `; bound in ${colours.join(', ')}`}
            </p>
            <a class="button" href={addressOf('sets', name)}>
              Check
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}
