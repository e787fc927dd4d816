/** What the demo patterns and horses are called in lists. Names of lessons and riders stand in their documents. */
export const DEMO_TEXTS = {
  wren: 'Wren, short',
  post: 'Post, standard',
  rail: 'Rail, long',
  'post-16': 'Post, 16 in seat',
  'post-18': 'Post, 18 in seat',
  'post-layered': 'Post in layers, tapered tips',
  'wren-630-r1150': 'Wren at 630, rock 1150',
  'wren-630-r1750': 'Wren at 630, rock 1750',
  dumpling: 'Dumpling, short round cob',
  heron: 'Heron, long high withers',
  tuesday: 'Tuesday, average',
} as const;
