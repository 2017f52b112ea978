/* Cost of what a plan uses. */
#include "face/spend.h"
#include "science/quantities.h"

typedef struct spending {
	const tc_model *model;
	tc_spend *spend;
	double loss; /* m³ a filling */
} spending;

static bool has_price(const tc_product *product, double *per_volume)
{
	const tc_value price = tc_product_value(product, TC_P_PRICE), size = tc_product_value(product, TC_P_SIZE);
	if (!tc_known(price) || !tc_known(size) || !(size.number > 0))
		return false;
	*per_volume = price.number / size.number;
	return true;
}

/* Is it the first layer of its step and product, in the order of parts? Each step fills its cup once. */
static bool fills_cup(const spending *s, const tc_layer *layer)
{
	for (uint32_t p = 0; p < s->model->parts; p++)
		for (uint32_t i = 0; i < s->model->part[p].layers; i++) {
			const tc_layer *other = s->model->part[p].layer[i];
			if (other == layer)
				return true;
			if (other->step == layer->step && other->product == layer->product)
				return false;
		}
	return true;
}

/* Ready-to-spray volume of a layer. False: nobody says enough. */
static bool volume_of(const spending *s, const tc_layer *layer, double *volume)
{
	const tc_value area = layer->part->written->area, lands = tc_product_value(layer->product, TC_P_TRANSFER);
	double wet = 0;
	for (uint32_t i = 0; i < layer->coats; i++)
		wet += layer->wet[i];
	return layer->coats > 0 && tc_known(area) && tc_known(lands) && !isnan(wet) &&
	       tc_quantity_sprayed(area.number, wet, 1, lands.number, fills_cup(s, layer) ? s->loss : 0, volume);
}

static void add(spending *s, const tc_product *product, bool known, double volume)
{
	double per_volume;
	if (!product || !has_price(product, &per_volume))
		return;
	s->spend->priced = true;
	if (known)
		s->spend->cost += volume * per_volume;
	else if (!s->spend->lacks)
		s->spend->lacks = product->label;
}

static void add_layer(spending *s, const tc_layer *layer)
{
	double volume = 0, paint = 0;
	const double thinner = layer->thin.said ? layer->thin.share : 0;
	if (layer->old || !layer->step || layer->step->written->verb != TC_VERB_COAT)
		return;
	const bool known = volume_of(s, layer, &volume) && tc_quantity_paint(volume, thinner, &paint);
	add(s, layer->product, known, paint);
	if (thinner > 0)
		add(s, layer->thin.with, known, volume - paint);
}

void tc_spend_of(const tc_model *model, tc_spend *spend)
{
	spending s = {.model = model, .spend = spend};
	const tc_value loss = tc_library_default(model->library, TC_D_CUP_LOSS)->value;
	*spend = (tc_spend){0};
	s.loss = tc_known(loss) ? loss.number : 0;
	for (uint32_t p = 0; p < model->parts; p++)
		for (uint32_t i = 0; i < model->part[p].layers; i++)
			add_layer(&s, model->part[p].layer[i]);
}
