import { basename, resolve } from 'node:path';
import { counted } from '../base/wording.ts';
import { writeOrderTemplate } from '../jobs/order-template.ts';
import type { Command } from './command.ts';

interface OrdersArguments {
  template: string;
  set: string | undefined;
  semicolons: boolean;
}

export const ordersCommand: Command<OrdersArguments> = {
  command: 'orders',
  describe: 'begin a CSV of orders, for a spreadsheet: the headings of all its columns',
  builder: (args) =>
    args
      .option('template', {
        type: 'string',
        demandOption: true,
        describe: 'file to write, beside the run file; one that is there stays as it is',
      })
      .option('set', {
        type: 'string',
        describe: 'a set beside it: with columns for its options',
      })
      .option('semicolons', {
        type: 'boolean',
        default: false,
        describe: 'between columns, for spreadsheets that take a comma for a decimal point',
      })
      .example(
        '$0 orders --template patterns/week.csv --set fenlark',
        'fill it in, then write "orders: week.csv" in a run file',
      ),
  run: ({ template, set, semicolons }, { say }) => {
    const file = resolve(template);
    const headings = writeOrderTemplate(file, set, semicolons ? ';' : ',');
    say(
      `${template}: ${counted(headings.length, 'column')}, no order yet. Leave empty what is not said, and write "orders: ${basename(file)}" in a run file beside it.`,
    );
    return 0;
  },
};
