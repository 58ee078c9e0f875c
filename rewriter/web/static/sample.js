// A recipe to try the page with.

export const SAMPLE = `Okafor-Lind Blackberry Coffee Cake

From the Ninebark Oven's first winter. One 9-inch square pan.

Cake
2 cups all-purpose flour
2 tsp baking powder
1/2 tsp baking soda
1/2 tsp salt
1 cup sugar
1/2 cup soft butter
2 eggs
1 cup buttermilk
1 1/2 cups blackberries

Crumbs on top
1/2 cup brown sugar
1/4 cup flour
3 Tbsp cold butter

Heat the oven to 350 F. Cream the butter with the sugar, beat in the eggs. Stir in the flour, powder, soda and salt in turns with the buttermilk. Fold in the berries. Rub the crumbs together and strew them over. Bake 40 to 45 minutes, until a skewer comes out dry.
`;
