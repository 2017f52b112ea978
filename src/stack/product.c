/* What a product is: its own figures on the shelf, else those of its family. */
#include "stack/private.h"

/* Does a figure of a family of paints differ from one product to the next? What a family is (how it cures, what it may
 * serve as, what it sticks to, its solid's own properties) does not; what is printed on a data sheet does. */
static bool varies(tc_property property, const tc_property_row *row)
{
	switch (property) {
	case TC_P_CURE:
	case TC_P_ROLES:
	case TC_P_STICKS_TO:
	case TC_P_THINNED_BY:
		return false;
	case TC_P_SHEEN:
	case TC_P_SHADE:
	case TC_P_BLEEDS:
		return true;
	default:
		return row->sections & TC_LAID_SECTIONS && !(row->sections & TC_SECTION_BIT(SUBSTRATES));
	}
}

const tc_figure *tc_product_figure(const tc_product *product, tc_property property)
{
	const tc_figure *own = product->own ? product->own[property] : NULL;
	return own ? own : product->family->figures[property];
}

tc_value tc_product_value(const tc_product *product, tc_property property)
{
	const tc_figure *own = product->own ? product->own[property] : NULL;
	if (own)
		return own->value;
	const tc_entry *family = product->family;
	tc_value value = tc_entry_value(family, property);
	if (value.state == TC_SAID && family->sections & TC_LAID_SECTIONS &&
	    varies(property, tc_property_row_of(property)))
		value.state = TC_ASSUMED;
	return value;
}
