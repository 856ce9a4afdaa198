/** A set's questions, answered as a person does who takes what is offered. */
import type { Locator, Page } from 'playwright-core';
import { flatten } from '../../../src/geometry/paths/flatten.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';

/** What somebody presses who takes what is offered. Throws where nothing is. */
export async function offeredAnswer(page: Page): Promise<Locator> {
  const card = page.getByRole('region', { name: 'Asked now' });
  const panel = page.locator('.drafting-panel');
  const front = card.getByRole('group', { name: /^As it is drawn, the front/ });
  const pile = card.getByRole('group', { name: 'On this piece it leans' });
  const answer = await firstThere([
    card.getByRole('button', { name: /^Yes, for all / }),
    card.getByRole('button', { name: /^(Yes, it is so|I have looked)/ }),
    front.getByRole('radio', { name: 'at the top' }),
    panel.getByRole('group', { name: 'What is this?' }).locator('.guess-buttons button').first(),
    panel.getByRole('button', { name: /^bound/i }).first(),
    // The line on the piece is right, and not what the set says of all of them.
    pile.getByRole('radio', { name: 'forward' }),
  ]);
  if (answer === null) throw new Error(`nothing answers: ${await card.textContent()}`);
  return answer;
}

/** Looks less often than the browser draws, which would keep it drawing. */
const seldom = { polling: 50 };

/** Waits until what is open is known, and buttons can be pressed. */
export async function atRest(page: Page): Promise<void> {
  await page.waitForFunction(
    () =>
      document.querySelector('.drafting-panel:not(.resting)') !== null &&
      document.querySelector('.question-count')?.textContent?.includes('looking again') === false,
    null,
    seldom,
  );
}

/**
 * Answers what is asked until nothing is; gives how often something was pressed. `press`: how somebody presses,
 * with a mouse or a finger.
 */
export async function answerAll(
  page: Page,
  press: (what: Locator) => Promise<void> = (what) => what.click({ force: true }),
): Promise<number> {
  const most = 60;
  const count = page.locator('.question-count');
  const card = page.getByRole('region', { name: 'Asked now' });
  await press(page.getByRole('button', { name: 'Next' }));
  for (let presses = 1; presses < most; presses++) {
    await atRest(page);
    if ((await count.textContent())!.startsWith('No question left')) return presses;
    const before = await card.textContent();
    await press(await offeredAnswer(page));
    await page
      .waitForFunction(
        (text) =>
          document.querySelector('[aria-label="Asked now"]')?.textContent !== text ||
          (document.querySelector('.question-count')?.textContent ?? '').startsWith('No question'),
        before,
        seldom,
      )
      .catch(() => undefined);
  }
  throw new Error(`questions are left after ${most} presses`);
}

async function firstThere(all: readonly Locator[]): Promise<Locator | null> {
  for (const one of all) if ((await one.count()) > 0) return one;
  return null;
}

/** The area of a closed path by points along it (the shoelace formula), mm2. */
export function areaByPoints(path: Path): number {
  const points = flatten(path, 1e-4);
  const twice = points.reduce((sum, { x, y }, i) => {
    const next = points[(i + 1) % points.length]!;
    return sum + x * next.y - next.x * y;
  }, 0);
  return Math.abs(twice) / 2;
}
