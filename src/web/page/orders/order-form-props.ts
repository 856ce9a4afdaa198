import type { Order } from '../../../handing/order.ts';
import type { SetCard, Shop } from '../../api/shop.ts';

/** What the parts of the form of an order are given. */
export interface OrderFormProps {
  readonly order: Order;
  readonly set: SetCard;
  readonly shop: Shop;
  readonly onChange: (order: Order) => void;
}
