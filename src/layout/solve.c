#include "solve.h"

#include "clock.h"
#include "layout.h"

#include <float.h>
#include <glpk.h>
#include <math.h>
#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Binaries found by the solver are worth what they are worth once the rest is recomputed.  If that
 * is this much less than claimed, they are struck out and the search goes on.  A cost of several
 * columns is kept by rows that hold earlier stages to their sums, and the solver holds rows only to
 * about 1e-7 of their size. */
#define LEAK 1e-6
#define LEAK_OF_SUMS 1e-5
/* How often that may happen before the search is given up. */
enum { LEAKS_MOST = 50 };

/* Everything one search needs; on the caller's stack, so that a jump out of the solver loses
 * nothing. */
struct search {
    const struct program *program;
    double deadline_s; /* by solve_now(steps) */
    uint64_t *steps;   /* NULL: the clock counts */
    int counted;       /* iterations of simplex that are in *steps already */
    struct solution *solution;
    glp_prob *problem; /* owned by the solver's environment */
    int *column_of;    /* for each column of the program its number in the problem, or 0 */
    int *index;        /* room for one row, from 1 */
    double *factor;    /* the same */
    double bound;      /* as the running search reports it; -INFINITY: it has not yet */
    int branching;     /* how the solver picks the next binary to branch on */
    bool asserted;     /* the solver stopped on an assertion of its own */
    bool starved;      /* memory ran out, here or in the solver */
    enum solve_end end;
    jmp_buf escape;
};

double solve_now(const uint64_t *steps) {
    return steps ? (double)*steps / LAYOUT_STEPS_PER_S : clock_now_s();
}

void solution_free(struct solution *solution) {
    free(solution->values);
    *solution = (struct solution){0};
}

void solve_close(void) {
    glp_free_env();
}

static void load_columns(glp_prob *problem, const struct program *program, const int *column_of) {
    for (size_t c = 0; c < program->column_count; c++) {
        if (column_of[c] == 0)
            continue;
        const struct column *column = &program->columns[c];
        int number = glp_add_cols(problem, 1);
        glp_set_col_name(problem, number, column->name);
        glp_set_col_kind(problem, number, column->binary ? GLP_IV : GLP_CV);
        glp_set_col_bnds(problem, number, column->hi > column->lo ? GLP_DB : GLP_FX, column->lo,
                         column->hi);
        glp_set_obj_coef(problem, number, column->cost);
    }
}

static void load_rows(const struct search *search) {
    const struct program *program = search->program;
    glp_prob *problem = search->problem;
    for (size_t r = 0; r < program->row_count; r++) {
        const struct program_row *row = &program->rows[r];
        int number = glp_add_rows(problem, 1), count = 0;
        char name[32];
        snprintf(name, sizeof name, "row_%zu", r + 1);
        glp_set_row_name(problem, number, name);
        glp_set_row_bnds(problem, number, row->equal ? GLP_FX : GLP_LO, row->least, row->least);
        for (size_t t = 0; t < row->term_count; t++) {
            const struct term *term = &program->terms[row->first_term + t];
            count++;
            search->index[count] = search->column_of[term->column];
            search->factor[count] = term->factor;
        }
        glp_set_mat_row(problem, number, count, search->index, search->factor);
    }
}

static bool load(struct search *search) {
    search->problem = glp_create_prob();
    glp_set_prob_name(search->problem, "ruddle");
    glp_set_obj_name(search->problem, "cost");
    glp_set_obj_dir(search->problem, GLP_MIN);
    /* The other columns stay out, as some readers of MPS files refuse them: they have their lower
     * bound for a value. */
    if (program_number_columns(search->program, search->column_of) == 0)
        return false;
    load_columns(search->problem, search->program, search->column_of);
    load_rows(search);
    return true;
}

/* Adds what simplex has done on a problem since it was last asked.  A search works on a copy that
 * goes on counting from its problem, and hands its count back. */
static void count_steps(struct search *search, glp_prob *problem) {
    const int total = glp_get_it_cnt(problem);
    if (search->steps)
        *search->steps += (uint64_t)(total > search->counted ? total - search->counted : 0);
    search->counted = total;
}

static void watch(glp_tree *tree, void *info) {
    struct search *search = info;
    int best = glp_ios_best_node(tree);
    if (best != 0)
        search->bound = glp_ios_node_bound(tree, best);
    if (!search->steps)
        return;
    count_steps(search, glp_ios_get_prob(tree));
    ++*search->steps; /* a search that branches without an iteration ends as well */
    if (solve_now(search->steps) >= search->deadline_s)
        glp_ios_terminate(tree);
}

static int run_search(struct search *search, bool presolve) {
    double left_s = search->deadline_s - solve_now(search->steps);
    if (left_s <= 0)
        return GLP_ETMLIM;
    glp_iocp how;
    glp_init_iocp(&how);
    how.msg_lev = GLP_MSG_OFF;
    how.presolve = presolve ? GLP_ON : GLP_OFF;
    how.br_tech = search->branching;
    how.mir_cuts = GLP_ON;
    how.tol_int = 1e-9;
    if (!search->steps)
        how.tm_lim = left_s > 1e6 ? 1000000000 : (int)ceil(left_s * 1000);
    how.cb_func = watch;
    how.cb_info = search;
    const int code = glp_intopt(search->problem, &how);
    count_steps(search, search->problem);
    return code;
}

/* Of simplex, where it gives a second opinion: the presolver and simplex as they come call programs
 * empty that miss by a few 1e-7, which is rounding.  What a search then finds is recomputed with
 * much less, so this lets nothing wrong through. */
#define SECOND_TOLERANCE 1e-6

/* A "no" of the presolver is not final: where simplex finds the relaxation feasible after all, the
 * search is run without it. */
static int run_twice(struct search *search) {
    int code = run_search(search, true);
    if (code != GLP_ENOPFS)
        return code;
    glp_smcp how;
    glp_init_smcp(&how);
    how.msg_lev = GLP_MSG_OFF;
    how.tol_bnd = SECOND_TOLERANCE;
    glp_scale_prob(search->problem, GLP_SF_AUTO);
    glp_adv_basis(search->problem, 0);
    if (glp_simplex(search->problem, &how) != 0)
        return code;
    return glp_get_status(search->problem) == GLP_OPT ? run_search(search, false) : code;
}

/* With the binaries fixed as found, the rest by simplex, tighter than inside the search.  (GLPK's
 * rational simplex is no help: it rounds its input to fractions within 1e-9.)  False if those
 * binaries allow nothing after all. */
static bool recompute(struct search *search) {
    glp_prob *problem = search->problem;
    for (int j = 1; j <= glp_get_num_cols(problem); j++)
        if (glp_get_col_kind(problem, j) != GLP_CV) {
            double value = floor(glp_mip_col_val(problem, j) + 0.5);
            glp_set_col_bnds(problem, j, GLP_FX, value, value);
        }
    glp_smcp how;
    glp_init_smcp(&how);
    how.msg_lev = GLP_MSG_OFF;
    how.tol_bnd = how.tol_dj = 1e-9;
    glp_std_basis(problem);
    glp_adv_basis(problem, 0);
    return glp_simplex(problem, &how) == 0 && glp_get_status(problem) == GLP_OPT;
}

/* Keeps the recomputed values if they are the best so far. */
static bool keep(struct search *search) {
    struct solution *solution = search->solution;
    double cost = glp_get_obj_val(search->problem);
    if (solution->values && cost >= solution->cost)
        return true;
    if (!solution->values)
        solution->values = calloc(search->program->column_count, sizeof *solution->values);
    if (!solution->values) {
        search->starved = true;
        return false;
    }
    for (size_t c = 0; c < search->program->column_count; c++) {
        int number = search->column_of[c];
        solution->values[c] = number == 0 ? search->program->columns[c].lo
                                          : glp_get_col_prim(search->problem, number);
    }
    solution->cost = cost;
    return true;
}

/* Strikes out the binaries as found: sum over those at 1 of (1 - b) + sum over those at 0 of b is
 * at least 1.  Bounds are as the program has them again. */
static void strike_out(struct search *search) {
    glp_prob *problem = search->problem;
    int count = 0;
    double least = 1;
    for (size_t c = 0; c < search->program->column_count; c++) {
        const struct column *column = &search->program->columns[c];
        int number = search->column_of[c];
        if (number == 0 || !column->binary)
            continue;
        bool one = glp_mip_col_val(problem, number) > 0.5;
        glp_set_col_bnds(problem, number, column->hi > column->lo ? GLP_DB : GLP_FX, column->lo,
                         column->hi);
        count++;
        search->index[count] = number;
        search->factor[count] = one ? -1 : 1;
        least -= one ? 1 : 0;
    }
    int row = glp_add_rows(problem, 1);
    glp_set_row_bnds(problem, row, GLP_LO, least, least);
    glp_set_mat_row(problem, row, count, search->index, search->factor);
}

static double leak_allowed(const struct program *program) {
    const size_t count = program_cost_count(program);
    return count > 1 ? fmax(LEAK_OF_SUMS, LEAK * (double)count) : LEAK;
}

static enum solve_end ended_by(int code, int status) {
    if (code == GLP_ENOPFS || (code == 0 && status == GLP_NOFEAS))
        return SOLVE_INFEASIBLE;
    if (code == 0 && status == GLP_OPT)
        return SOLVE_OPTIMAL;
    if (code == GLP_ETMLIM || code == GLP_ESTOP)
        return status == GLP_FEAS || status == GLP_OPT ? SOLVE_FEASIBLE : SOLVE_UNDECIDED;
    return SOLVE_FAULT;
}

/* A node whose relaxation was not solved yet has -DBL_MAX for its bound: nothing is known. */
static double bound_known(const struct search *search) {
    return search->bound > -DBL_MAX ? search->bound : -INFINITY;
}

/* Searches until what the solver claims is what the recomputed values are worth. */
static enum solve_end search_on(struct search *search) {
    struct solution *solution = search->solution;
    if (program_bounds_cross(search->program))
        return SOLVE_INFEASIBLE;
    if (!program_finite(search->program) || !load(search))
        return SOLVE_FAULT;
    for (int leaks = 0; leaks < LEAKS_MOST; leaks++) {
        search->bound = -INFINITY;
        int code = run_twice(search);
        enum solve_end end = ended_by(code, code == GLP_ETMLIM && search->bound == -INFINITY
                                                ? GLP_UNDEF
                                                : glp_mip_status(search->problem));
        if (end == SOLVE_FAULT)
            return end;
        if (end == SOLVE_INFEASIBLE || end == SOLVE_UNDECIDED) {
            /* Nothing left beside what was struck out and kept. */
            solution->bound = end == SOLVE_INFEASIBLE ? solution->cost : bound_known(search);
            if (!solution->values)
                return end;
            return end == SOLVE_INFEASIBLE ? SOLVE_OPTIMAL : SOLVE_FEASIBLE;
        }
        double claimed = glp_mip_obj_val(search->problem);
        if (recompute(search) && !keep(search))
            return SOLVE_FAULT;
        solution->bound = end == SOLVE_OPTIMAL ? claimed : bound_known(search);
        if (solution->values && solution->cost <= claimed + leak_allowed(search->program))
            return end;
        strike_out(search);
    }
    return solution->values ? SOLVE_FEASIBLE : SOLVE_UNDECIDED;
}

static void escape(void *info) {
    struct search *search = info;
    /* Misuse is a defect of ours and found by tests; what is left is lack of memory. */
    search->starved = !search->asserted;
    longjmp(search->escape, 1);
}

/* Nothing the solver says is for the person at the terminal; its last words before an abort would
 * be printed even with its output off. */
static int swallow(void *info, const char *words) {
    static const char assertion[] = "Assertion failed";
    struct search *search = info;
    if (strncmp(words, assertion, strlen(assertion)) == 0)
        search->asserted = true;
    return 1;
}

/* The solver aborts the process on misuse or lack of memory, unless it is jumped out of; its
 * environment is then thrown away, and its problem with it. */
static void guard(struct search *search, void (*work)(struct search *)) {
    search->asserted = false;
    /* Otherwise the first call would end the process where memory is short. */
    search->starved = glp_init_env() > 1;
    if (search->starved)
        return;
    glp_term_out(GLP_OFF);
    glp_term_hook(swallow, search);
    glp_error_hook(escape, search);
    if (setjmp(search->escape) == 0) {
        work(search);
        glp_error_hook(NULL, NULL);
        if (search->problem)
            glp_delete_prob(search->problem);
        glp_term_hook(NULL, NULL); /* it knew this search */
    } else {
        search->end = SOLVE_FAULT;
        glp_free_env();
    }
    search->problem = NULL;
}

static void search_guarded(struct search *search) {
    search->end = search_on(search);
}

static bool open_search(struct search *search, const struct program *program) {
    size_t room = program->column_count;
    for (size_t r = 0; r < program->row_count; r++)
        if (program->rows[r].term_count > room)
            room = program->rows[r].term_count;
    search->program = program;
    search->column_of = calloc(program->column_count + 1, sizeof *search->column_of);
    search->index = calloc(room + 1, sizeof *search->index);
    search->factor = calloc(room + 1, sizeof *search->factor);
    return search->column_of && search->index && search->factor;
}

static void close_search(struct search *search) {
    free(search->column_of);
    free(search->index);
    free(search->factor);
}

/* Pseudo-costs branch best, but GLPK 5.0 stops on an assertion of theirs (dx != 0.0) where a binary
 * lies within rounding of 0 or 1; its other rule has none, so it gets a second try.  Lack of memory
 * gets none: what is left of it is for saying so. */
enum solve_end solve_program(const struct program *program, double limit_s, uint64_t *steps,
                             struct solution *solution) {
    static const int branchings[] = {GLP_BR_PCH, GLP_BR_DTH};
    *solution = (struct solution){.bound = -INFINITY};
    struct search search = {.deadline_s = solve_now(steps) + limit_s,
                            .steps = steps,
                            .solution = solution,
                            .end = SOLVE_FAULT};
    bool open = open_search(&search, program);
    for (size_t i = 0; open && i < sizeof branchings / sizeof *branchings; i++) {
        solution_free(solution);
        solution->bound = -INFINITY;
        memset(search.column_of, 0, program->column_count * sizeof *search.column_of);
        search.branching = branchings[i];
        search.counted = 0;
        guard(&search, search_guarded);
        if (search.end != SOLVE_FAULT || search.starved)
            break;
    }
    close_search(&search);
    if (search.end == SOLVE_FAULT)
        solution_free(solution);
    return search.end;
}

/* What a model is written with: the search's problem, and where to. */
struct writing {
    struct search search;
    const char *path;
    bool lp, good;
};

static void write_guarded(struct search *search) {
    struct writing *writing = (struct writing *)(void *)search;
    if (!program_finite(search->program) || !load(search))
        return;
    writing->good =
        (writing->lp ? glp_write_lp(search->problem, NULL, writing->path)
                     : glp_write_mps(search->problem, GLP_MPS_FILE, NULL, writing->path)) == 0;
}

bool solve_write_to(const struct program *program, const char *path, bool lp) {
    struct writing writing = {.path = path, .lp = lp};
    if (open_search(&writing.search, program))
        guard(&writing.search, write_guarded);
    close_search(&writing.search);
    return writing.good;
}
