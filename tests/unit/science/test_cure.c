/* Degree of cure, its inverse, Arrhenius and the rule of ten kelvin. */
#include "science/cure.h"

#include "near.h"

/* 25 h to 63 % at 20 C, twice as fast for +10 K: practice, for an air-drying enamel. */
static const struct tc_cure_law enamel = {.mechanism = TC_CURE_OXIDATION,
	.tau = 90000.0,
	.reference = 293.15,
	.per_ten = 2.0,
	.humidity = 0.5,
	.damp = 0.3};

static struct tc_cure_span air_at(double celsius, double humidity, double duration)
{
	return (struct tc_cure_span){
		.duration = duration, .temperature = celsius + 273.15, .humidity = humidity, .irradiance = 0.0};
}

/* A doubling from 20 to 30 C is 51.22 kJ/mol; 50 kJ/mol is 1.967 to 30 C and 11.74 to 60 C (worked by hand). */
static void arrhenius(void **state)
{
	(void)state;
	double value;
	assert_true(tc_arrhenius_energy(2.0, 293.15, 303.15, &value));
	assert_near(value, 51220.0, 10.0);
	assert_true(tc_arrhenius(50000.0, 293.15, 303.15, &value));
	assert_near(value, 1.967, 1e-3);
	assert_true(tc_arrhenius(50000.0, 293.15, 333.15, &value));
	assert_near(value, 11.74, 1e-2);
	assert_false(tc_arrhenius_energy(1.0, 293.15, 303.15, &value));
	assert_false(tc_arrhenius_energy(2.0, 303.15, 293.15, &value));
}

/* 23 to 15 C at twofold per 10 K: times 1.741 (worked by hand; the rule itself is common practice). */
static void rule_of_ten(void **state)
{
	(void)state;
	double ratio;
	assert_true(tc_per_ten(2.0, 296.15, 288.15, &ratio));
	assert_near(1.0 / ratio, 1.741, 1e-3);
	assert_false(tc_per_ten(0.5, 296.15, 288.15, &ratio));
}

/* First order: 1 - 1/e at tau, and half at tau ln 2 (any text of kinetics). */
static void first_order(void **state)
{
	(void)state;
	struct tc_cure_span air = air_at(20, 0.5, 0);
	double degree, age;
	assert_true(tc_cure_degree(&enamel, &air, 1, 90000.0, &degree));
	assert_near(degree, 0.6321206, 1e-6);
	assert_true(tc_cure_reaches(&enamel, &air, 1, 0.5, &age, NULL));
	assert_near(age, 90000.0 * 0.69314718, 1e-3);
	assert_true(tc_cure_degree(&enamel, &air, 1, 0.0, &degree));
	assert_true(degree == 0.0);
}

/*
 * Common practice (no source) puts the closed middle of an air-dry enamel at about 4 h to 48 h: with this law the
 * degrees 15 % and 85 % fall there.
 */
static void closed_middle(void **state)
{
	(void)state;
	struct tc_cure_span air = air_at(20, 0.5, 0);
	double early, late;
	assert_true(tc_cure_reaches(&enamel, &air, 1, 0.15, &early, NULL));
	assert_true(tc_cure_reaches(&enamel, &air, 1, 0.85, &late, NULL));
	assert_near(early / 3600.0, 4.06, 0.01);
	assert_near(late / 3600.0, 47.4, 0.1);
}

/* A warm hour counts as it should: pieces of a history add up. */
static void histories(void **state)
{
	(void)state;
	struct tc_cure_span span[] = {air_at(20, 0.5, 3600), air_at(40, 0.5, 1800), air_at(10, 0.5, 0)};
	double degree, same;
	assert_true(tc_cure_degree(&enamel, span, 3, 3600 + 1800 + 7200, &degree));
	struct tc_cure_span even = air_at(20, 0.5, 0);
	assert_true(tc_cure_degree(&enamel, &even, 1, 3600 + 4 * 1800 + 7200 / 2.0, &same));
	assert_near(degree, same, 1e-12);
}

static void mechanisms(void **state)
{
	(void)state;
	struct tc_cure_law law = enamel;
	struct tc_cure_span air = air_at(20, 0.8, 0);
	double rate;
	assert_true(tc_cure_rate(&law, &air, &rate));
	assert_near(rate, (1 - 0.24) / (1 - 0.15), 1e-12);
	law.mechanism = TC_CURE_COALESCENCE;
	assert_true(tc_cure_rate(&law, &air, &rate));
	assert_near(rate, 0.4, 1e-12);
	law.mechanism = TC_CURE_MOISTURE;
	assert_true(tc_cure_rate(&law, &air, &rate));
	assert_near(rate, 1.6, 1e-12);
	law.mechanism = TC_CURE_TWO_PART;
	assert_true(tc_cure_rate(&law, &air, &rate));
	assert_near(rate, 1.0, 1e-12);
	law.mechanism = TC_CURE_EVAPORATION;
	assert_true(tc_cure_rate(&law, &air, &rate));
	assert_near(rate, 1.0, 1e-12);
	law.mechanism = TC_CURE_LIGHT;
	assert_true(tc_cure_rate(&law, &air, &rate));
	assert_true(rate == 0.0);
	air.irradiance = 3.0;
	assert_true(tc_cure_rate(&law, &air, &rate));
	assert_near(rate, 3.0, 1e-12);
}

/* Below its coldest temperature, in the dark, in dry air: never, and it says so. */
static void never(void **state)
{
	(void)state;
	struct tc_cure_law law = enamel;
	struct tc_cure_span air = air_at(5, 0.0, 0);
	double age = 4.0;
	bool is_never = false;
	law.coldest = 283.15;
	assert_false(tc_cure_reaches(&law, &air, 1, 0.5, &age, &is_never));
	assert_true(is_never);
	law.coldest = 0.0;
	law.mechanism = TC_CURE_MOISTURE;
	assert_false(tc_cure_reaches(&law, &air, 1, 0.5, &age, &is_never));
	assert_true(is_never);
	assert_false(tc_cure_reaches(&law, &air, 1, 1.0, &age, &is_never));
	assert_false(is_never);
	assert_true(age == 4.0);
	assert_true(tc_cure_reaches(&law, &air, 1, 0.0, &age, &is_never));
	assert_true(age == 0.0);
}

static void random_history(uint64_t *seed, struct tc_cure_law *law, struct tc_cure_span *span, size_t count)
{
	*law = (struct tc_cure_law){.mechanism = (enum tc_cure_mechanism)(random_bits(seed) % 6),
		.tau = random_size(seed, 1.0, 1e7),
		.reference = random_between(seed, 273, 313),
		.activation = random_bits(seed) % 2 ? random_between(seed, 1e3, 1e5) : 0.0,
		.per_ten = random_between(seed, 1, 4),
		.coldest = random_bits(seed) % 3 ? 0.0 : 278.15,
		.humidity = random_between(seed, 0.1, 0.9),
		.damp = random_between(seed, 0, 1),
		.induction = random_bits(seed) % 2 ? 0.0 : random_size(seed, 1, 1e5)};
	for (size_t i = 0; i < count; i++)
		span[i] = (struct tc_cure_span){random_size(seed, 1, 1e6), random_between(seed, 263, 353),
			random_between(seed, 0, 1), random_bits(seed) % 2 ? 0.0 : random_between(seed, 0, 10)};
}

/* The inverse finds the degree again; cure never goes back; warmer never is less cured. */
static void properties(void **state)
{
	(void)state;
	uint64_t seed = 31;
	int found = 0;
	for (int round = 0; round < 20000; round++) {
		struct tc_cure_law law;
		struct tc_cure_span span[5];
		size_t count = 1 + random_bits(&seed) % 5;
		random_history(&seed, &law, span, count);
		double wanted = random_between(&seed, 0.001, 0.999), age, degree, later;
		bool is_never;
		if (tc_cure_reaches(&law, span, count, wanted, &age, &is_never)) {
			assert_true(tc_cure_degree(&law, span, count, age, &degree));
			assert_near(degree, wanted, 1e-7);
			found++;
		} else {
			assert_true(is_never);
		}
		double a = random_size(&seed, 1, 1e7), b = a * random_between(&seed, 1, 3);
		assert_true(tc_cure_degree(&law, span, count, a, &degree));
		assert_true(tc_cure_degree(&law, span, count, b, &later));
		assert_true(degree >= 0.0 && degree <= later && later <= 1.0);
		for (size_t i = 0; i < count; i++)
			span[i].temperature += 7.0;
		assert_true(tc_cure_degree(&law, span, count, a, &later));
		assert_true(later >= degree - 1e-12);
	}
	assert_true(found > 10000);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(arrhenius),
		cmocka_unit_test(rule_of_ten),
		cmocka_unit_test(first_order),
		cmocka_unit_test(closed_middle),
		cmocka_unit_test(histories),
		cmocka_unit_test(mechanisms),
		cmocka_unit_test(never),
		cmocka_unit_test(properties),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
