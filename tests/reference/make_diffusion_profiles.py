#!/usr/bin/env python3
"""Reference 1-D diffusion profiles (numpy + scipy only, independent of the kernel).

Usage: python3 make_diffusion_profiles.py [output_folder]   (default: ./diffusion_profiles next to this file)

Model (parameter set of Plummer, Deal and Griffin, 2000, Table 7-5):
  dC/dt = -dJ/dx,  J = -D(n/ni) * (dC/dx + z*C*dln(n/ni)/dx),  z=+1 donor, -1 acceptor
  D = D0 + Dm*(n/ni) + Dmm*(n/ni)^2 + Dp*(p/ni);  n-p = sum(z*C)+background;  n*p = ni^2
  all dopant atoms active and ionised; x = 0 is the silicon surface; far end is a zero-flux wall.
Method of lines: vertex-centred finite volumes on a geometrically graded grid, scipy solve_ivp BDF
with sparse Jacobian.  Each case is run on N and 2N nodes; the header states the largest relative change
of C between them where C > 1e-5*max(C) (grid error of the coarser run), and the dose balance error.
Units: cm, s, cm^-3, cm^-2, eV, degC.  CSV depth column in micrometres.
"""
import os, sys
import numpy as np
from scipy.integrate import solve_ivp
from scipy.special import erfc, erf, erfcx
from scipy.sparse import diags, kron, csr_matrix, bmat

K = 8.617333262e-5            # eV/K
PDG = {  # (prefactor cm^2/s, activation energy eV) for D0, Dm, Dmm, Dp ; z
    'B':  dict(z=-1, D0=(0.05, 3.50), Dp=(0.95, 3.50)),
    'In': dict(z=-1, D0=(0.60, 3.50), Dp=(0.60, 3.50)),
    'P':  dict(z=+1, D0=(3.85, 3.66), Dm=(4.44, 4.00), Dmm=(44.2, 4.37)),
    'As': dict(z=+1, D0=(0.011, 3.44), Dm=(31.0, 4.15)),
    'Sb': dict(z=+1, D0=(0.214, 3.65), Dm=(15.0, 4.08)),
}

def kT(Tc): return K*(Tc + 273.15)
def ni(Tc): return 3.87e16*(Tc + 273.15)**1.5*np.exp(-0.605/kT(Tc))
def comp(el, Tc):
    d = PDG[el]
    return [d[c][0]*np.exp(-d[c][1]/kT(Tc)) if c in d else 0.0 for c in ('D0', 'Dm', 'Dmm', 'Dp')]

def grid(L, n, ratio):
    """n nodes on [0,L]; last spacing / first spacing = ratio, smooth."""
    s = np.linspace(0, 1, n)
    a = np.log(ratio)
    return L*np.expm1(a*s)/np.expm1(a) if ratio != 1 else L*s

def solve(x, C0, els, Tc, t, Cs=None, bg=0.0, field=True, constD=None, hevap=0.0, mult=1.0, rtol=1e-8):
    """C0: (m,n) initial.  Cs: list of surface concentrations or None (zero flux).  bg: fixed net donor density."""
    m, n = C0.shape
    h = np.diff(x)
    vol = np.empty(n); vol[1:-1] = (x[2:] - x[:-2])/2; vol[0] = h[0]/2; vol[-1] = h[-1]/2
    Ni = ni(Tc)
    z = [PDG[e]['z'] for e in els] if constD is None else [1]*m
    cs = [comp(e, Tc) for e in els] if constD is None else None
    def flux(C):
        if constD is not None:
            return -constD*np.diff(C, axis=1)/h
        N = bg + sum(zz*c for zz, c in zip(z, C))
        a = N/(2*Ni)
        ln = np.arcsinh(a)                   # ln(n/ni)
        lnf = 0.5*(ln[1:] + ln[:-1]); r = np.exp(lnf)
        J = np.empty((m, n - 1))
        for k in range(m):
            D = mult*(cs[k][0] + cs[k][1]*r + cs[k][2]*r*r + cs[k][3]/r)
            dr = z[k]*0.5*(C[k, 1:] + C[k, :-1])*np.diff(ln) if field else 0.0
            J[k] = -D*(np.diff(C[k]) + dr)/h
        return J
    S = 1e15
    def rhs(_, y):
        C = y.reshape(m, n)*S
        J = flux(C)
        d = np.empty_like(C)
        d[:, 1:-1] = -(J[:, 1:] - J[:, :-1])/vol[1:-1]
        d[:, 0] = -J[:, 0]/vol[0] - hevap*C[:, 0]/vol[0]
        d[:, -1] = J[:, -1]/vol[-1]
        if Cs is not None:
            for k in range(m):
                if Cs[k] is not None: d[k, 0] = 0.0
        return (d/S).ravel()
    T = diags([1.0, 1.0, 1.0], [-1, 0, 1], shape=(n, n))
    sp = csr_matrix(kron(np.ones((m, m)), T))
    C = C0.copy()
    if Cs is not None:
        for k in range(m):
            if Cs[k] is not None: C[k, 0] = Cs[k]
    r = solve_ivp(rhs, (0, t), (C/S).ravel(), method='BDF', rtol=rtol, atol=1e-10, jac_sparsity=sp)
    if not r.success: raise RuntimeError(r.message)
    return r.y[:, -1].reshape(m, n)*S, vol

def gauss(x, Q, Rp, dRp):
    """Gaussian implant, renormalised so that the dose inside x>=0 is exactly Q."""
    g = np.exp(-(x - Rp)**2/(2*dRp**2))
    norm = dRp*np.sqrt(np.pi/2)*(1 + erf(Rp/(np.sqrt(2)*dRp)))
    return Q*g/norm

def junction(x, C, Cb):
    i = np.where(C > Cb)[0]
    if len(i) == 0 or i[-1] == len(x) - 1: return float('nan')
    i = i[-1]
    f = np.log(C[i]/Cb)/np.log(C[i]/C[i+1])
    return (x[i] + f*(x[i+1] - x[i]))*1e4

def run(name, els, L, ratio, init, Tc, t, Cs=None, bg=0.0, field=True, constD=None, hevap=0.0, mult=1.0,
        note='', Cj=None, out='.', n=601, exact=None, seq=None):
    """init(x) -> (m,n) array. seq: list of (Tc,t,Cs) further steps."""
    steps = [(Tc, t, Cs)] + (seq or [])
    res = []
    for nn in (n, 2*n - 1):
        x = grid(L, nn, ratio); C = init(x); dose0 = None
        for (T_, t_, s_) in steps:
            h = np.diff(x); vol = np.empty(nn); vol[1:-1] = (x[2:]-x[:-2])/2; vol[0] = h[0]/2; vol[-1] = h[-1]/2
            dose0 = (C*vol).sum(axis=1)
            C, vol = solve(x, C, els, T_, t_, s_, bg, field, constD, hevap, mult)
        res.append((x, C, vol))
    (x1, C1, _), (x, C, vol) = res
    Cc = C[:, ::2]
    msk = Cc > 1e-5*C.max()
    gerr = float(np.max(np.abs(C1[msk]/Cc[msk] - 1)))
    # Richardson extrapolation to the coarse nodes (second-order scheme) for the published values
    Cp = Cc + (Cc - C1)/3.0
    Cp = np.where(Cp > 0, Cp, Cc)
    lines = [f'# {name}', f'# {note}',
             f'# dopants={"+".join(els)} steps(T_C,t_s,Csurf_cm-3)={steps} background_net_donor_cm-3={bg:g} field_term={field} '
             f'constD_cm2/s={constD} evap_cm/s={hevap:g} D_multiplier={mult:g}',
             f'# length_cm={L:g} nodes={n} (values Richardson-extrapolated from {n} and {2*n-1} nodes)']
    if constD is None:
        for T_ in sorted({s[0] for s in steps}):
            lines.append(f'# ni({T_}C)={ni(T_):.6g} cm-3; ' + '; '.join(
                f'{e}: D0={comp(e,T_)[0]:.6g} Dm={comp(e,T_)[1]:.6g} Dmm={comp(e,T_)[2]:.6g} Dp={comp(e,T_)[3]:.6g} cm2/s' for e in els))
    last = steps[-1][2]
    dose = (C*vol).sum(axis=1)
    if last is None and hevap == 0:
        lines.append('# relative dose change over last step: ' + ' '.join(f'{a/b-1:.1e}' for a, b in zip(dose, dose0)))
    lines.append('# final dose cm-2: ' + ' '.join(f'{d:.6g}' for d in dose))
    lines.append(f'# grid check: max relative change of C, {n} vs {2*n-1} nodes, where C>1e-5 max: {gerr:.2e}')
    if exact is not None:
        ex = exact(x1); mm = ex > 1e-5*ex.max()
        lines.append(f'# max relative deviation from closed form where C>1e-5 max: {np.max(np.abs(Cp[0][mm]/ex[mm]-1)):.2e}')
    for cj in (Cj or []):
        lines.append(f'# depth where {els[0]} = {cj:g} cm-3: {junction(x1, Cp[0], cj):.5f} um')
    lines.append('# tolerance for a fresh implementation: 1% in depth at fixed C for C>1e-3 max; 2% in C only where |dlnC/dlnx|<3 (steep fronts amplify a depth error)')
    keep = np.arange(0, n, max(1, n//200))
    head = 'depth_um,' + ','.join(f'{e}_cm-3' for e in els)
    with open(os.path.join(out, name + '.csv'), 'w') as f:
        f.write('\n'.join(lines) + '\n' + head + '\n')
        for i in keep:
            if x1[i]*1e4 and all(Cp[k, i] < 1e8 for k in range(len(els))): continue
            f.write(f'{x1[i]*1e4:.6f},' + ','.join(f'{max(Cp[k,i],0):.6e}' for k in range(len(els))) + '\n')
    print('\n'.join(lines[:1] + lines[3:])); sys.stdout.flush()

def stack(*f):
    return lambda x: np.array([g(x) for g in f])

def zero(x): return np.zeros_like(x)
U = 1e-4  # cm per um

def oxidation_segregation(out):
    """Constant-D boron redistribution under parabolic oxide growth, moving boundary; exact similarity solution.
    X=sqrt(Bp*t); silicon surface s=alpha*X; m=C_Si/C_ox; no diffusion in the oxide."""
    D, Bp, al, m, Cb, t = 1.4e-13, 1.0e-13*30/3.6, 0.44, 0.3, 1e16, 3600.0
    lam = al*np.sqrt(Bp/D)/2
    KK = (1/m - al)*np.sqrt(Bp)/2
    A = -Cb*KK/(np.sqrt(D/np.pi)*np.exp(-lam**2) + KK*erfc(lam))
    s = al*np.sqrt(Bp*t)
    x = np.linspace(0, 6e-4, 241)
    C = Cb + A*erfc((x + s)/(2*np.sqrt(D*t)))
    # numerical check: similarity ODE is exact, so test by direct integration of the moving-frame PDE from t=t/100
    n = 1201; y = grid(8e-4, n, 200.0); h = np.diff(y)
    vol = np.empty(n); vol[1:-1] = (y[2:] - y[:-2])/2; vol[0] = h[0]/2; vol[-1] = h[-1]/2
    t0 = t/100; s0 = al*np.sqrt(Bp*t0)
    c0 = Cb + A*erfc((y + s0)/(2*np.sqrt(D*t0)))
    def rhs(tt, c):
        v = al*np.sqrt(Bp/tt)/2                       # ds/dt
        J = -D*np.diff(c)/h - v*0.5*(c[1:] + c[:-1])   # flux relative to the moving surface
        d = np.empty(n)
        d[1:-1] = -(J[1:] - J[:-1])/vol[1:-1]
        d[0] = -(J[0] + c[0]/m*v/al)/vol[0]            # uptake by oxide: C_ox*dX/dt
        d[-1] = 0.0
        return d
    r = solve_ivp(rhs, (t0, t), c0, method='BDF', rtol=1e-9, atol=1e6, jac_sparsity=diags([1.0, 1.0, 1.0], [-1, 0, 1], shape=(n, n)))
    ex = Cb + A*erfc((y + s)/(2*np.sqrt(D*t)))
    dev = np.max(np.abs(r.y[:, -1]/ex - 1))
    with open(os.path.join(out, 'c14_boron_oxidation_segregation.csv'), 'w') as f:
        f.write('# c14_boron_oxidation_segregation\n# exact similarity solution, constant D, parabolic oxide, moving boundary; depth from the CURRENT Si/SiO2 interface\n'
                f'# D={D:g} cm2/s Bparabolic={Bp:.6g} cm2/s alpha={al} m=C_Si/C_ox={m} Cbulk={Cb:g} t={t:g} s Xox={np.sqrt(Bp*t)*1e4:.5f} um Si_consumed={s*1e4:.5f} um\n'
                f'# Csurf/Cbulk={1+A*erfc(lam)/Cb:.6f}; oxide concentration (uniform)={(Cb+A*erfc(lam))/m:.6g} cm-3\n'
                f'# numerical moving-frame finite-volume check, max relative deviation: {dev:.2e}\n# tolerance for a fresh implementation: 1%\ndepth_um,B_cm-3\n')
        for a, b in zip(x[::2], C[::2]): f.write(f'{a*1e4:.6f},{b:.6e}\n')
    print('c14 Cs/Cb', 1 + A*erfc(lam)/Cb, 'Xox um', np.sqrt(Bp*t)*1e4, 'dev', dev)

def main(out):
    os.makedirs(out, exist_ok=True)
    o = dict(out=out); fine = dict(out=out, n=1601)   # finer grid for steep fronts
    run('c01_constD_erfc', ['B'], 1.2*U, 20, stack(zero), 1000, 3600, [1e20], constD=1e-14, note='constant D, constant surface, closed form Cs*erfc(x/2sqrt(Dt))',
        Cj=[1e15], exact=lambda x: 1e20*erfc(x/(2*np.sqrt(1e-14*3600))), **o)
    s0 = 0.05*U; Dt = 1e-13*7200
    run('c02_constD_gaussian', ['B'], 3.5*U, 20, stack(lambda x: 1e14*2/np.sqrt(2*np.pi)/s0*np.exp(-x**2/(2*s0**2))), 1100, 7200, None, constD=1e-13,
        note='half-Gaussian start (sigma 0.05 um, dose 1e14), reflecting surface, closed form sigma^2 = s0^2+2Dt', Cj=[1e15],
        exact=lambda x: 1e14*2/np.sqrt(2*np.pi*(s0**2+2*Dt))*np.exp(-x**2/(2*(s0**2+2*Dt))), **o)
    hh, De, te = 5e-9, 1e-13, 3600.0
    run('c03_constD_evaporation', ['B'], 4*U, 40, stack(lambda x: 1e17 + 0*x), 1100, te, None, constD=De, hevap=hh,
        note='uniform 1e17, surface loss flux h*C with h=5e-9 cm/s, semi-infinite closed form', exact=lambda x: 1e17*(
        erf(x/(2*np.sqrt(De*te))) + np.exp(-(x/(2*np.sqrt(De*te)))**2)*erfcx(x/(2*np.sqrt(De*te)) + hh*np.sqrt(te/De))), **o)
    run('c04_B_predep_950C_30min', ['B'], 0.6*U, 10, stack(zero), 950, 1800, [2e20], bg=1e15, note='boron predeposition at fixed surface concentration 2e20, n-substrate 1e15', Cj=[1e15, 1e17, 1e19], **fine)
    run('c05_B_predep_1100C_20min', ['B'], 3.0*U, 10, stack(zero), 1100, 1200, [3e20], bg=1e15, note='boron predeposition, surface 3e20', Cj=[1e15, 1e17, 1e19], **fine)
    run('c06_P_predep_1000C_30min', ['P'], 1.6*U, 6, stack(zero), 1000, 1800, [3e20], bg=-1e15, note='phosphorus predeposition, surface 3e20, all active, no kink-and-tail coupling', Cj=[1e15, 1e17, 1e19], **fine)
    run('c07_As_predep_1050C_60min', ['As'], 1.2*U, 6, stack(zero), 1050, 3600, [1e20], bg=-1e15, note='arsenic from a doped source, surface 1e20', Cj=[1e15, 1e17, 1e19], **fine)
    run('c08_Sb_buried_1200C_120min', ['Sb'], 5.0*U, 8, stack(zero), 1200, 7200, [3e19], bg=-1e15, note='antimony buried layer, surface 3e19', Cj=[1e16], **o)
    Dp9 = sum(comp('B', 950)); L0 = 2*np.sqrt(Dp9*1800)
    run('c09_B_drivein_1100C_60min', ['B'], 4.0*U, 40, stack(lambda x: 2e20*erfc(x/L0)), 1100, 3600, None, bg=1e15,
        note=f'drive-in, start = 2e20*erfc(x/{L0:.6e} cm), inert, reflecting surface', Cj=[1e15, 1e17], **o)
    run('c10_P_nwell_1150C_360min', ['P'], 12*U, 20, stack(lambda x: gauss(x, 8e12, 0.1888*U, 0.0628*U)), 1150, 21600, None, bg=-1e15,
        note='n-well: P 150 keV 8e12 Gaussian Rp .1888 dRp .0628 um, p-substrate 1e15, inert, reflecting', Cj=[1e15, 5e15], **o)
    run('c11_As_sd_950C_30min', ['As'], 0.6*U, 6, stack(lambda x: gauss(x, 3e15, 0.0374*U, 0.0136*U)), 950, 1800, None, bg=-1e16,
        note='n+ source/drain: As 60 keV 3e15 Gaussian Rp .0374 dRp .0136 um (all active, no clustering)', Cj=[1e16, 1e18], **fine)
    run('c12_B_sd_1000C_30min', ['B'], 1.6*U, 6, stack(lambda x: gauss(x, 2e15, 0.0987*U, 0.0371*U)), 1000, 1800, None, bg=1e16,
        note='p+ source/drain: B 30 keV 2e15 Gaussian Rp .0987 dRp .0371 um (no transient enhancement)', Cj=[1e16, 1e18], **fine)
    run('c13_As_B_coupled_1000C_30min', ['As', 'B'], 1.2*U, 5, stack(lambda x: gauss(x, 5e15, 0.0582*U, 0.0207*U), lambda x: gauss(x, 5e13, 0.1608*U, 0.0504*U)), 1000, 1800, None, bg=1e16,
        note='coupled arsenic + boron (junction field dip): As 5e15 Rp .0582 dRp .0207, B 5e13 Rp .1608 dRp .0504 um', Cj=[1e17], **fine)
    oxidation_segregation(out)
    run('c15_P_implant_900C_60min', ['P'], 1.0*U, 6, stack(lambda x: gauss(x, 1e15, 0.0607*U, 0.0256*U)), 900, 3600, None, bg=-1e15,
        note='P 50 keV 1e15 Gaussian Rp .0607 dRp .0256 um', Cj=[1e15, 1e17], **fine)
    run('c16_B_twostep_975C_1100C', ['B'], 4.0*U, 40, stack(zero), 975, 900, [2e20], bg=1e15, seq=[(1100, 5400, None)],
        note='two-step boron: predep 975 C 15 min at 2e20 then drive-in 1100 C 90 min, both concentration-dependent', Cj=[1e15, 1e17], **o)
    run('c17_B_OED_1000C_x3', ['B'], 2.0*U, 10, stack(lambda x: gauss(x, 1e13, 0.1608*U, 0.0504*U)), 1000, 3600, None, bg=1e15, mult=3.0,
        note='B 50 keV 1e13, all components of D multiplied by 3 (constant oxidation enhancement), fixed surface, no segregation', Cj=[1e15, 1e16], **o)

if __name__ == '__main__':
    here = os.path.dirname(os.path.abspath(__file__))
    main(sys.argv[1] if len(sys.argv) > 1 else os.path.join(here, 'diffusion_profiles'))
