import { headingDeg, normalDeg } from '../../geometry/paths/angle.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { pointIn } from './curves.ts';
import type { Entity } from '../drawing.ts';
import type { DxfRecord } from '../tags/records.ts';
import { hasTag, numberIn } from '../tags/records.ts';
import { decodeText, plainMtext } from '../tags/text-codes.ts';

/** What a text entity says and where, in drawing units and in its own frame. */
export type TextParts = Pick<Extract<Entity, { kind: 'text' }>, 'at' | 'text' | 'height' | 'deg'>;

/** What tags of attributes stand for, in the words that a text beside a piece would say. */
const labels: readonly (readonly [tag: RegExp, label: string])[] = [
  [/^(qty|quantity|count|no_?off|off)$/i, 'Quantity'],
  [/^(material|mat|cloth|fabric)$/i, 'Material'],
];

/** Reads an ATTRIB. If its tag says how many or of what, so does its text: `Quantity: 2`. */
export function attributeIn(record: DxfRecord): TextParts {
  const parts = textLineIn(record);
  const tag = record.tags.find(({ code }) => code === 2)?.value.trim() ?? '';
  const label = labels.find(([own]) => own.test(tag))?.[1];
  const isSaid = label === undefined || parts.text.trim() === '' || parts.text.includes(':');
  return isSaid ? parts : { ...parts, text: `${label}: ${parts.text.trim()}` };
}

/** Whether an ATTDEF says the same wherever its block is inserted. (DXF Reference, ATTDEF, group 70, bit 2.) */
export function isConstant(record: DxfRecord): boolean {
  return (numberIn(record, 70, 0) & 2) !== 0;
}

/** Reads a TEXT or an ATTDEF. */
export function textLineIn(record: DxfRecord): TextParts {
  const value = record.tags.find(({ code }) => code === 1)?.value ?? '';
  return {
    at: anchorOf(record),
    text: decodeText(value),
    height: numberIn(record, 40),
    deg: normalDeg(numberIn(record, 50, 0)),
  };
}

/**
 * The point by which a text was placed. A text that is justified has it in group 11. A text that begins
 * there, or is stretched between two points (group 72 is 3 or 5), has it in group 10.
 */
function anchorOf(record: DxfRecord): Point {
  const across = numberIn(record, 72, 0);
  const up = numberIn(record, 73, numberIn(record, 74, 0));
  const justified = (across !== 0 || up !== 0) && across !== 3 && across !== 5;
  return justified && hasTag(record, 11) ? pointIn(record, 11) : pointIn(record);
}

/**
 * Reads an MTEXT. A long text comes in pieces, in groups 3 and at last 1. If the direction is given as a
 * vector (group 11), it counts more than the angle (group 50).
 */
export function paragraphIn(record: DxfRecord): TextParts {
  const pieces = record.tags.filter(({ code }) => code === 3 || code === 1);
  const deg = hasTag(record, 11) ? headingDeg(pointIn(record, 11)) : numberIn(record, 50, 0);
  return {
    at: pointIn(record),
    text: plainMtext(pieces.map(({ value }) => value).join('')),
    height: numberIn(record, 40),
    deg: normalDeg(deg),
  };
}
