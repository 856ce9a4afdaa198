/// <reference lib="dom" />
/** The picture of a piece at the desk: aimed at in mm of its block. */
import type { Page } from 'playwright-core';

/** A place of a piece in the window: `which` picture, mm in the frame of its block. */
export function placeOf(
  page: Page,
  which: number,
  at: readonly [number, number],
): Promise<[number, number]> {
  return page
    .locator('.piece-picture')
    .nth(which)
    .locator('.canvas svg > g')
    .first()
    .locator('path')
    .first()
    .evaluate((line, [x, y]) => {
      const { a, b, c, d, e, f } = (line as SVGGraphicsElement).getScreenCTM()!;
      return [a * x! + c * y! + e, b * x! + d * y! + f];
    }, at);
}

/** Clicks a place of a piece. */
export async function pointAt(
  page: Page,
  which: number,
  at: readonly [number, number],
  add = false,
): Promise<void> {
  const [x, y] = await placeOf(page, which, at);
  if (add) await page.keyboard.down('Shift');
  await page.mouse.click(x, y);
  if (add) await page.keyboard.up('Shift');
}
